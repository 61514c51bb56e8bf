// Cells worth a look, thin and doubtful first, to step through.
import * as api from "./api.js";
import { byId, count, el, millimetres } from "./util.js";
import { on, selectCell, state, tell } from "./store.js";
import { reveal } from "./map.js";

const WORDS = { Jump: "jump against neighbours", Doubled: "doubled", Halved: "halved", LowMargin: "close runner-up", WrongEcho: "chance of a wrong echo", Ambiguous: "ambiguous" };
let only = "";

export function initDoubtful() {
  on("settled", fetchList);
  on("doubtful cell tab", render);
}

async function fetchList() {
  try {
    state.doubtful = await api.get("doubtful");
    tell("doubtful");
  } catch (error) {
    state.faults(error);
  }
}

const list = () => state.doubtful.cells.filter((cell) => !only || cell.reasons.includes(only));

/** To the next (or the one before) of the list. */
export function step(by) {
  const cells = list();
  if (!cells.length) return;
  const at = cells.findIndex((c) => c.scan === state.cell.scan && c.beam === state.cell.beam);
  const next = cells[(at < 0 ? (by > 0 ? 0 : cells.length - 1) : at + by + cells.length) % cells.length];
  selectCell(next.scan, next.beam);
  reveal();
}

function render() {
  byId("tab-doubt").textContent = `Doubtful ${state.doubtful.count ? count(state.doubtful.count) : ""}`;
  const page = byId("page-doubt");
  if (page.hidden) return;
  const cells = list();
  const shown = cells.slice(0, 120);
  page.replaceChildren(
    el("p", {}, state.doubtful.count ? `${count(state.doubtful.count)} cells are worth a look, thin before thick.` : "No cell stands out."),
    el(
      "div",
      { class: "row wrap", role: "group", "aria-label": "Reasons" },
      el("button", { type: "button", "aria-pressed": String(!only), onclick: () => choose("") }, "all"),
      ...Object.entries(state.doubtful.reasons)
        .filter(([, n]) => n)
        .map(([reason, n]) => el("button", { type: "button", "aria-pressed": String(only === reason), onclick: () => choose(reason) }, `${WORDS[reason]} ${count(n)}`)),
    ),
    el("div", { class: "row" }, el("button", { type: "button", onclick: () => step(-1), "aria-keyshortcuts": "P" }, "Previous"), el("button", { type: "button", onclick: () => step(1), "aria-keyshortcuts": "N" }, "Next")),
    el(
      "table",
      { class: "list" },
      el("thead", {}, el("tr", {}, ...["cell", "wall", "around", "why"].map((t) => el("th", { scope: "col" }, t)))),
      el(
        "tbody",
        {},
        ...shown.map((cell) => {
          const here = cell.scan === state.cell.scan && cell.beam === state.cell.beam;
          const row = el(
            "tr",
            { class: here ? "here" : "", onclick: () => (selectCell(cell.scan, cell.beam), reveal()) },
            el("td", {}, el("button", { type: "button", class: "plain" }, `${cell.scan}, ${cell.beam}`)),
            el("td", {}, millimetres(cell.thicknessMetres ?? NaN, 2)),
            el("td", {}, millimetres(cell.aroundMetres ?? NaN, 2)),
            el("td", {}, cell.reasons.map((r) => WORDS[r]).join(", ")),
          );
          if (here) row.setAttribute("aria-current", "true");
          return row;
        }),
      ),
    ),
    cells.length > shown.length ? el("p", {}, `The first ${shown.length} of ${count(cells.length)} in this list.`) : null,
  );
  page.querySelector(".here")?.scrollIntoView({ block: "nearest" });
}

function choose(reason) {
  only = reason;
  render();
}
