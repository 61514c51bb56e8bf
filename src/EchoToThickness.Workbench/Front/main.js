// Starts the page: facts, parts, keys. Every other module owns one part of the screen.
import * as api from "./api.js";
import { byId, count, el } from "./util.js";
import { on, selectCell, state, tell } from "./store.js";
import { again, giveUp } from "./measure.js";
import { fit, initMap, refit, reveal, zoomAbout } from "./map.js";
import { initStrip } from "./strip.js";
import { initCell } from "./cell.js";
import { initRules, showFaults } from "./rules.js";
import { initDoubtful, step } from "./doubtful.js";
import { initCompare, initialReference } from "./compare.js";
import { initViews } from "./views.js";

const KEYS = [
  ["Arrows", "move the cell; with Shift by ten"],
  ["+ − 0", "zoom in, out, whole map"],
  ["N P", "next and previous doubtful cell"],
  ["1 2 3 4", "This cell, Rules, Compare, Doubtful"],
  ["Ctrl+Z, Ctrl+Y", "undo, redo"],
  ["Ctrl+S", "save the procedure"],
  ["Tab", "to the handles on the A-scan; arrows turn them, with Shift ten times as far"],
  ["? Esc", "these keys; close what is open"],
];

state.faults = (error) => {
  const faults = error?.faults ?? (error ? [{ key: "", what: error.message, remedy: "reload the page.", place: "" }] : []);
  const box = byId("faults");
  box.hidden = !faults.length;
  box.replaceChildren(...faults.map((f) => el("p", {}, el("b", {}, f.key ? f.key + ": " : ""), `${f.what} To fix: ${f.remedy}`)), el("div", { class: "row" }, el("button", { type: "button", onclick: () => (giveUp(), (box.hidden = true), showFaults([]), again()) }, "Give the change up")));
  if (faults.length || box.dataset.had) showFaults(faults);
  box.dataset.had = faults.length ? "1" : "";
};

async function start() {
  [state.session, state.form] = await Promise.all([api.get("session"), api.get("form")]);
  const { stack } = state.session;
  const name = stack.name.split(/[\\/]/).at(-1);
  document.title = `${name} – Workbench`;
  byId("stack-line").title = stack.name;
  byId("stack-line").textContent = `${name}: ${count(stack.scans)} × ${count(stack.beams)} A-scans of ${count(stack.samples)} samples, ${stack.inMemory ? "in memory" : "read from the disk"}`;
  state.cell = { scan: Math.floor(stack.scans / 2), beam: Math.floor(stack.beams / 2) };
  layerList();
  initMap();
  initStrip();
  initCell();
  initRules();
  initDoubtful();
  initCompare();
  initViews();
  on("document", documentChanged);
  on("answered", answered);
  on("layers", layerList);
  on("cell", reveal);
  if (state.session.truth)
    fetch("truth")
      .then((response) => api.wholeMap(response, stack.scans, stack.beams))
      .then((map) => {
        state.truth = map;
        tell("layers");
      });
  tabs();
  buttons();
  document.addEventListener("keydown", keys);
  again(["thickness"]);
  on("settled", () => {
    if (state.opened) return;
    state.opened = true;
    initialReference();
    document.documentElement.dataset.ready = "1";
  });
}

function layerList() {
  const select = byId("layer");
  const names = ["thickness", "uncertainty", "margin", "wrong_echo_probability", "runner_up_thickness", "snr"];
  const options = names.map((name) => [name, { thickness: "wall", uncertainty: "uncertainty", margin: "margin", wrong_echo_probability: "chance of a wrong echo", runner_up_thickness: "runner-up", snr: "signal to noise" }[name]]);
  if (state.truth) options.push(["truth", "true wall"], ["error", "error against the truth"]);
  if (state.reference) options.push(["change", "change against the map compared with"]);
  select.replaceChildren(...options.map(([value, text]) => el("option", { value, selected: value === state.shown }, text)));
  select.onchange = () => {
    state.shown = select.value;
    state.scale.auto = true;
    refit(false);
    tell("map");
  };
}

function documentChanged() {
  const doc = state.document;
  byId("undo").disabled = doc.undo === null;
  byId("redo").disabled = doc.redo === null;
  byId("undo").title = doc.undo ? `take back: ${doc.undo}` : "";
  byId("redo").title = doc.redo ? `do again: ${doc.redo}` : "";
  byId("file-line").textContent = (doc.file ?? "defaults") + (doc.saved ? "" : " •");
  byId("file-line").title = doc.saved ? "as saved" : "not saved";
}

function answered() {
  const last = state.timings.findLast((t) => t.full !== null);
  byId("answer").textContent = `${count(last.cells)} A-scans answered in ${last.full.toFixed(0)} ms${last.preview < last.full - 30 ? `, first picture after ${last.preview.toFixed(0)} ms` : ""}`;
}

function tabs() {
  const all = [...document.querySelectorAll("[role=tab]")];
  const show = (tab) => {
    for (const other of all) {
      const chosen = other === tab;
      other.setAttribute("aria-selected", String(chosen));
      other.tabIndex = chosen ? 0 : -1;
      byId(other.getAttribute("aria-controls")).hidden = !chosen;
    }
    tell("tab");
  };
  all.forEach((tab, i) => {
    tab.onclick = () => show(tab);
    tab.addEventListener("keydown", (event) => {
      const by = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
      if (!by) return;
      event.preventDefault();
      event.stopPropagation();
      const next = all[(i + by + all.length) % all.length];
      show(next);
      next.focus();
    });
  });
  state.showTab = (n) => all[n] && show(all[n]);
}

async function walk(by) {
  giveUp();
  state.document = (await (await api.post("history", { step: by })).json()).document;
  documentChanged();
  again(["thickness"]);
}

function buttons() {
  byId("undo").onclick = () => walk(-1);
  byId("redo").onclick = () => walk(1);
  byId("save").onclick = openSave;
  byId("save-go").onclick = save;
  byId("save-name").addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    save();
  });
  byId("keys").onclick = () => byId("keys-dialog").showModal();
  byId("keys-list").replaceChildren(...KEYS.flatMap(([key, what]) => [el("dt", {}, key), el("dd", {}, what)]));
  byId("copy").onclick = async () => {
    try {
      await navigator.clipboard.writeText(byId("command").textContent);
      byId("copy").textContent = "Copied";
    } catch {
      getSelection().selectAllChildren(byId("command"));
      byId("copy").textContent = "Marked";
    }
    setTimeout(() => (byId("copy").textContent = "Copy"), 1500);
  };
  const dark = matchMedia("(prefers-color-scheme: dark)");
  const theme = (on) => {
    document.documentElement.dataset.dark = String(on);
    byId("theme").textContent = on ? "Light" : "Dark";
    tell("theme");
  };
  theme(dark.matches);
  dark.addEventListener("change", () => theme(dark.matches));
  byId("theme").onclick = () => theme(document.documentElement.dataset.dark !== "true");
}

function openSave() {
  byId("save-folder").textContent = state.document.folder;
  byId("save-name").value = state.document.file ?? "procedure.toml";
  byId("save-fault").textContent = "";
  byId("save-dialog").showModal();
}

async function save() {
  try {
    const name = byId("save-name").value.trim();
    state.document = (await (await api.post("save", { name, replace: byId("save-replace").checked })).json()).document;
    documentChanged();
    tell("cell");
    byId("answer").textContent = `saved as ${name}; the same map: ${state.document.measure}`;
    byId("command").textContent = state.document.measure;
    byId("save-dialog").close();
  } catch (error) {
    byId("save-fault").textContent = error.message + (error.faults ? " To fix: " + error.faults[0].remedy : "");
  }
}

function keys(event) {
  const typing = event.target.matches("input, select, textarea");
  const control = event.ctrlKey || event.metaKey;
  if (control && event.key.toLowerCase() === "s") return event.preventDefault(), openSave();
  if (typing || document.querySelector("dialog[open]")) return;
  if (control && event.key.toLowerCase() === "z") return event.preventDefault(), event.shiftKey ? walk(1) : walk(-1);
  if (control && event.key.toLowerCase() === "y") return event.preventDefault(), walk(1);
  if (control || event.altKey) return;
  const much = event.shiftKey ? 10 : 1;
  const move = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  const scrolls = event.target.matches("[role=tabpanel], #story, pre");
  if (move && !scrolls) {
    event.preventDefault();
    selectCell(state.cell.scan + much * move[0], state.cell.beam + much * move[1]);
  } else if (event.key === "n" || event.key === "N") step(1);
  else if (event.key === "p" || event.key === "P") step(-1);
  else if (event.key === "+" || event.key === "=") zoomAbout(1.6);
  else if (event.key === "-") zoomAbout(1 / 1.6);
  else if (event.key === "0") fit();
  else if (event.key === "?") byId("keys-dialog").showModal();
  else if ("1234".includes(event.key)) state.showTab(Number(event.key) - 1);
}

// For measurements from outside the page: how long answers took.
globalThis.workbench = state;
start().catch((error) => state.faults(error));
