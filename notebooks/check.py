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
# The house is held against published rules. A finding says what was measured, what the source asks, and how that
# was worked out. Local codes and licensed practice decide.

# %%
import enfilade as ef

project = ef.demo()
findings = ef.check(project, "kitchen")

# %%
from enfilade.walkthrough.ranking import worth_mending
from enfilade.checks.sentences import sentence

for finding in worth_mending(findings):
    print(sentence(finding, project.show.units))
    print("   ", *finding.working, sep="\n    ")

# %% [markdown]
# What if the island were 6 in narrower? The project is plain data: a changed copy is judged like any other, and the
# record is left as it is.

# %%
from enfilade.lengths import inches

slimmer = project.with_records(
    things=[
        thing.model_copy(update={"depth_mm": thing.depth_mm - inches(6)}) if thing.kind == "island" else thing
        for thing in project.things
    ]
)
before = {finding.id: finding for finding in findings}
for finding in ef.check(slimmer, "kitchen"):
    was = before.get(finding.id)
    if was is not None and was.verdict != finding.verdict:
        print(f"{finding.title}: {was.verdict} before, {finding.verdict} now")

# %% [markdown]
# The counts that a presentation needs: the island beside its seats and the floor round it, appliances beside the
# household and its largest gathering, storage by what it keeps and by reach. Each with what the sources ask.

# %%
import pandas as pd

from enfilade.checks.counts import count_tables

for table in count_tables(project, "kitchen"):
    display(pd.DataFrame(table.rows, columns=table.head).style.set_caption(table.title).hide())

# %% [markdown]
# The cabinet schedule.

# %%
from enfilade.drawings.schedule import cabinet_schedule

pd.DataFrame(cabinet_schedule(project, "kitchen"))[
    ["number", "name", "width_mm", "depth_mm", "height_mm", "hinge", "finished_ends", "fillers", "finish"]
]

# %% [markdown]
# Storage against the guideline, the runs of counter with their landings, and the aisles.

# %%
from enfilade.drawings.charts import aisle_chart, aisle_figure, run_charts, run_figure, storage_chart, storage_figure

storage_figure(storage_chart(project, "kitchen", findings))

# %%
run_figure(run_charts(project, "kitchen", findings)[0])

# %%
aisle_figure(aisle_chart(project, "kitchen", findings))
