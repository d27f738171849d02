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
# The walkthrough, room by room, for one audience. What an audience may not be told is left out before the page is made.

# %%
import tempfile
from pathlib import Path

import enfilade as ef

folder = Path(tempfile.mkdtemp()) / "told"
project = ef.demo()
pages = ef.tell(project, to=["html"], audience="student", out=folder)
[page.name for page in pages]

# %% [markdown]
# The lines to speak in the kitchen:

# %%
for stop in project.script:
    if stop.space == "kitchen":
        print("\n".join(stop.lines))
