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
# # Keep
# What is handed over with the finished house, and every earlier state that is kept of it: look back, compare, take one
# up again.

# %%
from enfilade.capture import open_page

open_page("keep")
