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
# # Check
# The house is held against published rules. A finding says what was measured, what the source asks, and how that was
# worked out. Local codes and licensed practice decide.

# %%
from enfilade.capture import open_page

open_page("check")
