// Two maps of one stack: a border to swipe, a map of the change, and a table of what became of the cells.
import * as api from "./api.js";
import { byId, count, el, millimetres } from "./util.js";
import { on, selectCell, state, tell } from "./store.js";
import { refit, reveal } from "./map.js";
import { again } from "./measure.js";

let change = null;

export function initCompare() {
  on("settled reference", fetchChange);
  on("document tab", render);
}

async function fetchChange() {
  if (!state.reference) return render();
  try {
    change = await api.get("change");
  } catch {
    change = null; // the new map is not measured in full yet; it will be
  }
  render();
}

/** The map that is shown now becomes the one to compare with. */
export const keepCurrent = () => take("this map as it is now", async () => api.wholeMap(await api.post("reference", { from: "current" }), ...size()));

const size = () => [state.session.stack.scans, state.session.stack.beams];

async function take(name, load) {
  try {
    state.reference = { name, ...(await load()) };
    tell("reference");
    tell("layers");
  } catch (error) {
    state.faults(error);
  }
}

const file = (name) =>
  take(name || "the defaults", async () => {
    const map = await api.wholeMap(await api.post("measure", { reference: name, layers: ["thickness"] }), ...size());
    again();
    return map;
  });

function show(mode) {
  state.mode = mode === "swipe" ? "swipe" : "one";
  const shown = mode === "change" ? "change" : state.shown === "change" ? "thickness" : state.shown;
  if (shown !== state.shown) {
    state.shown = shown;
    byId("layer").value = shown;
    refit(false);
  }
  tell("map");
  render();
}

export function initialReference() {
  if (state.session.grid) take("the grid of the command line", async () => api.wholeMap(await fetch("grid"), ...size()));
}

function render() {
  const page = byId("page-compare");
  if (page.hidden) return;
  const mode = state.shown === "change" ? "change" : state.mode;
  const button = (value, text) => el("button", { type: "button", "aria-pressed": String(mode === value), onclick: () => show(value) }, text);
  page.replaceChildren(
    el("p", {}, ...(state.reference ? ["Compared with ", el("b", {}, state.reference.name), "."] : ["Choose what the map is to be compared with."])),
    el(
      "div",
      { class: "row wrap" },
      el("button", { type: "button", onclick: keepCurrent }, "Keep the map as it is now"),
      state.session.grid ? el("button", { type: "button", onclick: initialReference }, "The grid given") : null,
      el("button", { type: "button", onclick: () => file("") }, "The defaults"),
    ),
    state.document?.files.length
      ? el("label", {}, "A procedure of the folder ", el("select", { id: "reference-file", onchange: (e) => e.target.value && file(e.target.value) }, el("option", { value: "" }, "choose …"), ...state.document.files.map((name) => el("option", { value: name }, name))))
      : null,
    ...(state.reference ? [el("div", { class: "row", role: "group", "aria-label": "How to compare" }, button("one", "New map"), button("swipe", "Swipe"), button("change", "Change"))] : []),
    ...(state.reference && change ? table() : []),
  );
}

function table() {
  const row = (words, n) => el("tr", {}, el("th", { scope: "row" }, words), el("td", {}, count(n)));
  const statuses = change.statuses;
  const moved = [];
  statuses.forEach((to, i) => to.forEach((n, j) => (i !== j && n ? moved.push([n, i, j]) : 0)));
  moved.sort((a, b) => b[0] - a[0]);
  const { beams } = state.session.stack;
  return [
    el("h3", {}, "change of the wall"),
    el(
      "table",
      { id: "change-table" },
      el(
        "tbody",
        {},
        row(`same within ${millimetres(change.sameMetres, 2)}`, change.same),
        row(`thinner (halved ${count(change.halved)})`, change.thinner),
        row(`thicker (doubled ${count(change.doubled)})`, change.thicker),
        row("wall gained", change.gained),
        row("wall lost", change.lost),
        row("neither has one", change.neither),
      ),
    ),
    el("p", {}, `Smallest wall ${millimetres(change.earlierMinimumMetres ?? NaN, 2)} before, ${millimetres(change.laterMinimumMetres ?? NaN, 2)} now; mean change ${change.meanMetres === null ? "–" : (change.meanMetres * 1e6).toFixed(1) + " µm"}.`),
    moved.length ? el("h3", {}, "change of the status") : null,
    moved.length ? el("table", {}, el("tbody", {}, ...moved.slice(0, 12).map(([n, i, j]) => row(`${state.session.statuses[i]} → ${state.session.statuses[j]}`, n)))) : null,
    change.largest.length ? el("h3", {}, "largest changes") : null,
    el(
      "div",
      { class: "row wrap" },
      ...change.largest.slice(0, 24).map((cell) => el("button", { type: "button", class: "small", onclick: () => (selectCell(Math.floor(cell / beams), cell % beams), reveal()) }, `${Math.floor(cell / beams)}, ${cell % beams}`)),
    ),
  ].filter(Boolean);
}
