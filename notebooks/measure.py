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
# A project is a declared house: rooms with their outlines, openings, and what stands in them.
# This notebook opens the demo house; put the folder of your own project in place of it with `ef.load("FOLDER")`.

# %%
import enfilade as ef

project = ef.demo()
f"{project.name}: {len(project.spaces)} rooms, {len(project.openings)} openings, {len(project.things)} things"

# %% [markdown]
# The kitchen as a plan. Rest the pointer on a thing to read its size, product and findings.

# %%
from enfilade.drawings.plotly_plan import plan_figure

plan_figure(project, "kitchen", ef.check(project, "kitchen"))

# %% [markdown]
# The same plan and each wall of the kitchen, drawn to scale for paper.

# %%
from IPython.display import SVG

from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.svg import svg_sheet

SVG(svg_sheet(plan_scene(project, "kitchen")))

# %%
wall = next(thing.place.wall for thing in project.things if thing.kind == "range")
SVG(svg_sheet(elevation_scene(project, wall, filled=True)))
