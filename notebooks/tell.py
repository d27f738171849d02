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
# # Tell
# The lines to speak, room by room, and the walkthrough for one audience. What an audience may not be told is left out
# before a page is made.

# %%
import enfilade as ef
from enfilade.capture import open_page

open_page("tell", write=ef.tell)
