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
# # Measure
# Each room as it was measured: walls, doors and windows, and what stands there. What you write is kept as you write it.

# %%
from enfilade.capture import open_page

open_page("measure")
