// The notebook's page about the selected cell, and the asking for it: one question at a time, the newest wins.
import * as api from "./api.js";
import { byId, el, micrometres, microseconds, millimetres, percent, words } from "./util.js";
import { on, positionOf, state, tell } from "./store.js";
import { tried } from "./measure.js";
import { statusOf, wallOf } from "./strip.js";

let asking = false;
let again = false;

export function initCell() {
  on("cell document turned", ask);
  on("explained tab", page);
}

async function ask() {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  do {
    again = false;
    try {
      const answer = await (await api.post("cell", { ...state.cell, edits: tried() })).json();
      for (const name of ["raw", "signal", "envelope"]) answer[name] = api.singles(answer[name]);
      state.explained = answer;
      tell("explained");
    } catch (error) {
      if (!again) state.faults(error);
    }
  } while (again);
  asking = false;
}

function place() {
  const { scan, beam } = state.cell;
  const { scanPositionsMetres, indexPositionsMetres } = state.session.stack;
  return (
    `scan position ${scan}, beam ${beam}` +
    (scanPositionsMetres ? `; ${positionOf("scan", scan).toFixed(1)} mm along the scan` : "") +
    (indexPositionsMetres ? `, ${positionOf("beam", beam).toFixed(1)} mm along the index axis` : "")
  );
}

function page() {
  const told = state.explained;
  if (!told) return;
  const cell = told.explained;
  const wall = wallOf(told);
  const status = state.session.statuses[statusOf(cell)];
  const measured = Number.isFinite(wall);
  const truth = state.truth?.thickness[cell.scan * state.session.stack.beams + cell.beam];
  byId("command").textContent = told.command;
  byId("cell-words").textContent = `Scan ${cell.scan}, beam ${cell.beam}: ${measured ? "wall " + millimetres(wall, 2) : status}`;
  if (byId("page-cell").hidden) return;
  const stages = [];
  for (const step of cell.steps) {
    if (stages.at(-1)?.stage !== step.stage) stages.push({ stage: step.stage, texts: [] });
    stages.at(-1).texts.push(step.text);
  }
  byId("page-cell").replaceChildren(
    el("p", { class: "place" }, place()),
    el("p", { class: "verdict" + (measured ? "" : " none") }, measured ? millimetres(wall) : status, measured ? el("small", {}, ` ± ${millimetres(cell.uncertainty_metres)} (k = 1)`) : null),
    el(
      "ul",
      { class: "facts" },
      measured && status !== "measured" ? el("li", {}, status) : null,
      Number.isFinite(truth) ? el("li", {}, `true wall ${millimetres(truth)}${measured ? `, error ${millimetres(wall - truth)}` : ""}`) : null,
      told.wrongEchoProbability !== null ? el("li", {}, `chance of a wrong echo ${percent(told.wrongEchoProbability, 2)}`) : null,
      cell.reflector_depth_metres !== null ? el("li", {}, `reflector at ${millimetres(cell.reflector_depth_metres)}`) : null,
      ...cell.notes.map((note) => el("li", {}, words(note))),
    ),
    ...stages.flatMap((stage) => [el("h3", {}, stage.stage), ...stage.texts.map((text) => el("p", {}, text))]),
    cell.echoes.length ? el("h3", {}, "candidate echoes") : null,
    cell.echoes.length ? echoes(cell) : null,
    cell.hypotheses.length ? el("h3", {}, "what was considered") : null,
    ...cell.hypotheses.map((h) => el("p", {}, `${h.thickness_metres === null ? "–" : millimetres(h.thickness_metres)}, score ${h.score.toFixed(2)}: ${h.name}. ${h.reason}`)),
    cell.uncertainty_budget.length ? el("h3", {}, "budget, given that the echo is the right one") : null,
    cell.uncertainty_budget.length
      ? el("table", {}, el("tbody", {}, ...cell.uncertainty_budget.map((row) => el("tr", {}, el("th", { scope: "row" }, row.source.trim()), el("td", {}, micrometres(row.standard_uncertainty_metres))))))
      : null,
    el("details", {}, el("summary", {}, "As ett explain prints it"), el("pre", { tabIndex: 0 }, told.page)),
  );
}

function echoes(cell) {
  const sign = (polarity) => (polarity > 0 ? "same" : polarity < 0 ? "inverted" : "–");
  return el(
    "table",
    {},
    el("thead", {}, el("tr", {}, ...["", "time", "of scale", "sign", "over noise", "role"].map((title) => el("th", { scope: "col" }, title)))),
    el(
      "tbody",
      {},
      ...cell.echoes.map((echo) =>
        el("tr", { class: echo.paired ? "paired" : "" }, el("td", {}, echo.paired ? "■" : ""), el("td", {}, microseconds(echo.seconds)), el("td", {}, percent(echo.amplitude_fraction)), el("td", {}, sign(echo.polarity)), el("td", {}, echo.snr_decibels === null ? "–" : echo.snr_decibels.toFixed(0) + " dB"), el("td", {}, echo.role)),
      ),
    ),
  );
}
