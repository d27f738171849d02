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
# # By hand
# The five acts in code, for who wants more than the pages show. This is the house that lies beside the notebooks; without
# one, the demo house. Nothing here changes it.

# %%
import enfilade as ef
from enfilade.capture.houses import given_folder

folder = given_folder()
project = ef.load(folder) if folder else ef.demo()
kitchen = next(space.id for space in project.spaces if space.use == "kitchen")
f"{project.name}: {len(project.spaces)} rooms, {len(project.openings)} openings, {len(project.things)} things"

# %% [markdown]
# **Measure.** The kitchen as a plan. Rest the pointer on a thing to read its size, product and findings.

# %%
from enfilade.drawings.plotly_plan import plan_figure

findings = ef.check(project, kitchen)
plan_figure(project, kitchen, findings)

# %% [markdown]
# The same plan and the wall of the range, drawn to scale for paper.

# %%
from IPython.display import SVG

from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.svg import svg_sheet

SVG(svg_sheet(plan_scene(project, kitchen)))

# %%
wall = next(thing.place.wall for thing in project.things if thing.kind == "range")
SVG(svg_sheet(elevation_scene(project, wall, filled=True)))

# %% [markdown]
# **Decide.** What is chosen and what is still open; needs that no decision answers yet.

# %%
import pandas as pd

needs = {need.id: need.number for need in project.brief.needs}
pd.DataFrame(
    {
        "no.": decision.number,
        "decision": decision.title,
        "status": decision.status,
        "needs": ", ".join(str(needs[id]) for id in decision.needs),
        "chosen": decision.chosen.text if decision.chosen else "",
        "by": decision.by,
        "due": decision.due,
    }
    for decision in project.decisions
)

# %%
answered = {id for decision in project.decisions for id in decision.needs}
[f"{need.number}. {need.text}" for need in project.brief.needs if need.id not in answered]

# %% [markdown]
# **Check.** What is worth mending first, with its working.

# %%
from enfilade.checks.sentences import sentence
from enfilade.walkthrough.ranking import worth_mending

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
for finding in ef.check(slimmer, kitchen):
    was = before.get(finding.id)
    if was is not None and was.verdict != finding.verdict:
        print(f"{finding.title}: {was.verdict} before, {finding.verdict} now")

# %% [markdown]
# The counts that a presentation needs: the island beside its seats and the floor round it, appliances beside the
# household and its largest gathering, storage by what it keeps and by reach. Each with what the sources ask.

# %%
from enfilade.walkthrough.count_tables import count_tables

for table in count_tables(project, kitchen):
    display(pd.DataFrame(table.rows, columns=table.head).style.set_caption(table.title).hide())

# %% [markdown]
# The cabinet schedule.

# %%
from enfilade.drawings.schedule import cabinet_schedule

pd.DataFrame(cabinet_schedule(project, kitchen))[
    ["number", "name", "width_mm", "depth_mm", "height_mm", "hinge", "finished_ends", "fillers", "finish"]
]

# %% [markdown]
# Storage against the guideline, the runs of counter with their landings, and the aisles.

# %%
from enfilade.drawings.charts import aisle_chart, aisle_figure, run_charts, run_figure, storage_chart, storage_figure

storage_figure(storage_chart(project, kitchen, findings))

# %%
run_figure(run_charts(project, kitchen, findings)[0])

# %%
aisle_figure(aisle_chart(project, kitchen, findings))

# %% [markdown]
# **Tell.** The walkthrough for one audience, and the lines to speak in the kitchen.

# %%
import tempfile
from pathlib import Path

pages = ef.tell(project, to=["html"], audience="student", out=Path(tempfile.mkdtemp()) / "told")
[page.name for page in pages]

# %%
for stop in project.script:
    if stop.space == kitchen:
        print("\n".join(line.text for line in stop.lines))

# %% [markdown]
# **Keep.** The archive, here in a temporary file, so that nothing of yours is changed. A copy of the house is kept twice,
# the second time with its island 6 in narrower.

# %%
from enfilade.archive.archive import Archive

place = Path(tempfile.mkdtemp())
archive = Archive(str(place / "archive.sqlite"))
ef.save(project.model_copy(update={"photographs": (), "script": ()}), place / "house")
archive.keep(place / "house", why="as measured")

# %%
house = ef.load(place / "house")
ef.save(house.with_records(things=slimmer.things), place / "house")
kept = archive.keep(place / "house", why="the island narrower, to try the aisle")
[(one.number, one.why) for one in archive.versions(kept.version.project)]

# %% [markdown]
# What changed between the two, in sentences.

# %%
from enfilade.archive.changing import changed

print(*changed(archive, kept.version.project, 1, 2), sep="\n")

# %% [markdown]
# Found by words, with a typing error, and by number.

# %%
from enfilade.archive.finding import find, plan_of

found = find(archive, "ilsand", limit=5)
print(*found.read_as, sep="\n")
pd.DataFrame(one.as_json() for one in found.hits)

# %%
in_a_room = [one for one in found.hits if one.space]
SVG(plan_of(archive, in_a_room[0])) if in_a_room else "Nothing was found in a room."

# %% [markdown]
# The two versions side by side.

# %%
from enfilade.archive.comparing import compare

compare([f"{kept.version.project}@1", f"{kept.version.project}@2"], archive)

# %% [markdown]
# Lessons: hindsight of one house comes back on another that records the same kind of thing.

# %%
from enfilade.archive.lessons import reminders

decisions = [
    one.model_copy(update={"hindsight": "Next time try the aisle with two people first."}) if one.things else one
    for one in house.decisions
]
other = house.with_records(decisions=decisions).model_copy(update={"id": "another-house", "name": "Another house"})
ef.save(other, place / "another")
archive.keep(place / "another", why="a year later")
for reminder in reminders(archive, house)[:5]:
    print(f"{reminder.name}: {reminder.lesson.text}\n    {reminder.why}")

# %%
archive.close()
