// Every part of a page, by its name.

import { view as addingView } from "./adding.js";
import { view as aftercareView } from "./aftercare.js";
import { view as archiveView } from "./archive.js";
import { view as briefView } from "./brief.js";
import { view as budgetView } from "./budget.js";
import { view as comparisonView } from "./comparison.js";
import { view as decisionsView } from "./decisions.js";
import { view as documentsView } from "./documents.js";
import { view as fieldsView } from "./fields.js";
import { view as findingsView } from "./findings.js";
import { view as forgettingView } from "./forgetting.js";
import { view as foundView } from "./found.js";
import { view as headView } from "./head.js";
import { view as layingView } from "./laying.js";
import { view as lessonsView } from "./lessons.js";
import { view as linesView } from "./lines.js";
import { view as passingView } from "./passing.js";
import { view as photographsView } from "./photographs.js";
import { view as planView } from "./plan.js";
import { view as roomsView } from "./rooms.js";
import { view as routeView } from "./route.js";
import { view as scanView } from "./scan.js";
import { view as schedulesView } from "./schedules.js";
import { view as scriptView } from "./script.js";
import { view as selectedView } from "./selected.js";
import { view as shotsView } from "./shots.js";
import { view as speakingView } from "./speaking.js";
import { view as startView } from "./start.js";
import { view as statesView } from "./states.js";
import { view as surveyView } from "./survey.js";
import { view as timingView } from "./timing.js";

export const VIEWS = {
  adding: addingView,
  aftercare: aftercareView,
  archive: archiveView,
  brief: briefView,
  budget: budgetView,
  comparison: comparisonView,
  decisions: decisionsView,
  documents: documentsView,
  fields: fieldsView,
  findings: findingsView,
  forgetting: forgettingView,
  found: foundView,
  head: headView,
  laying: layingView,
  lessons: lessonsView,
  lines: linesView,
  passing: passingView,
  photographs: photographsView,
  plan: planView,
  rooms: roomsView,
  route: routeView,
  scan: scanView,
  schedules: schedulesView,
  script: scriptView,
  selected: selectedView,
  shots: shotsView,
  speaking: speakingView,
  start: startView,
  states: statesView,
  survey: surveyView,
  timing: timingView,
};
