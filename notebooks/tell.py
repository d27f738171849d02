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
# In which order the rooms are told, what is said in each and how long that takes, the shots, and the documents for one
# audience. What an audience may not be told is left out before a document is made.

# %%
import enfilade as ef
from enfilade.capture import open_page
from enfilade.export.forms import FORMS

open_page("tell", write=ef.tell, forms=FORMS.values())
