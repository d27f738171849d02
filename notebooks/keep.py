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
# The studio's archive: versions of this house, found again by words and by number, lessons of other houses, houses side
# by side, and what is passed on. Then what is handed over with the finished house, and its earlier states.

# %%
from enfilade.capture import open_page

open_page("keep")
