# ---
# jupyter:
#   jupytext:
#     text_representation:
#       extension: .py
#       format_name: percent
#   kernelspec:
#     display_name: Python 3
#     name: python3
# ---

# %% [markdown]
# # Decide
# Each decision keeps the need that it answers, the options that were weighed, what was chosen and why.

# %%
from enfilade.capture import open_page

open_page("decide")
