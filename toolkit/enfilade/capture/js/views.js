// Every part of a page, by its name.

import { view as addingView } from "./adding.js";
import { view as briefView } from "./brief.js";
import { view as budgetView } from "./budget.js";
import { view as decisionsView } from "./decisions.js";
import { view as documentsView } from "./documents.js";
import { view as fieldsView } from "./fields.js";
import { view as findingsView } from "./findings.js";
import { view as headView } from "./head.js";
import { view as layingView } from "./laying.js";
import { view as linesView } from "./lines.js";
import { view as photographsView } from "./photographs.js";
import { view as planView } from "./plan.js";
import { view as roomsView } from "./rooms.js";
import { view as scanView } from "./scan.js";
import { view as schedulesView } from "./schedules.js";
import { view as selectedView } from "./selected.js";
import { view as startView } from "./start.js";
import { view as statesView } from "./states.js";
import { view as surveyView } from "./survey.js";

export const VIEWS = {
  adding: addingView,
  brief: briefView,
  budget: budgetView,
  decisions: decisionsView,
  documents: documentsView,
  fields: fieldsView,
  findings: findingsView,
  head: headView,
  laying: layingView,
  lines: linesView,
  photographs: photographsView,
  plan: planView,
  rooms: roomsView,
  scan: scanView,
  schedules: schedulesView,
  selected: selectedView,
  start: startView,
  states: statesView,
  survey: surveyView,
};
