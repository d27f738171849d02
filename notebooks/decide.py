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
# # Decide
# Each decision keeps the need that it answers, the options that were weighed, what was chosen and why.

# %%
import enfilade as ef

project = ef.demo()

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
    }
    for decision in project.decisions
).set_index("no.")

# %% [markdown]
# What is still open, by whom and by when; and needs that no decision answers yet.

# %%
[(d.title, d.by, d.due) for d in project.decisions if d.status == "undecided"]

# %%
answered = {id for decision in project.decisions for id in decision.needs}
[f"{need.number}. {need.text}" for need in project.brief.needs if need.id not in answered]
