// The form of a procedure, made from the schema that parser and reference page use as well; and the text itself.
import { byId, el } from "./util.js";
import { on, state } from "./store.js";
import { giveUp, turn } from "./measure.js";

let faults = [];
const opened = new Set(["gate", "interface", "pairing"]);

export function initRules() {
  on("document tab", render);
}

export function showFaults(list) {
  faults = list;
  render();
}

function render() {
  const page = byId("page-rules");
  if (page.hidden) return;
  // A field that is being typed into is left alone.
  if (page.contains(document.activeElement) && document.activeElement.matches("input, textarea") && !faults.length && document.activeElement.dataset.typing) return;
  const focus = document.activeElement?.id;
  const top = page.scrollTop;
  page.replaceChildren(...state.form.sections.map(section), text());
  page.scrollTop = top;
  if (focus && page.querySelector("#" + CSS.escape(focus))) byId(focus).focus({ preventScroll: true });
}

function section(description) {
  const gates = description.list ? entries(description.key) : [null];
  const changed = description.list ? gates.length > 0 : description.keys.some((key) => isChanged(`${description.key}.${key.key}`, key));
  const box = el(
    "details",
    { open: opened.has(description.key) },
    el("summary", {}, el("b", {}, description.key), changed ? el("i", { title: "differs from the defaults" }, " ●") : null, el("span", {}, " " + description.text)),
  );
  box.addEventListener("toggle", () => (box.open ? opened.add(description.key) : opened.delete(description.key)));
  if (!description.list) {
    box.append(...description.keys.filter((key) => key.kind !== "tables").map((key) => field(`${description.key}.${key.key}`, key)));
    return box;
  }
  for (const number of gates) {
    const entry = `${description.key}[${number}]`;
    box.append(
      el(
        "fieldset",
        {},
        el("legend", {}, state.values[entry + ".name"] ?? entry),
        ...description.keys.filter((key) => key.kind !== "tables").map((key) => field(`${entry}.${key.key}`, key)),
        el("button", { type: "button", onclick: () => turn([{ kind: "remove", key: entry }], `${entry} removed`) }, "Remove this gate"),
      ),
    );
  }
  box.append(el("button", { type: "button", onclick: () => addGate(gates.length) }, "Add a gate"));
  return box;
}

function entries(list) {
  const numbers = new Set();
  for (const key of Object.keys(state.values)) {
    const match = new RegExp(`^${list}\\[(\\d+)\\]\\.`).exec(key);
    if (match) numbers.add(Number(match[1]));
  }
  return [...numbers].sort((a, b) => a - b);
}

function addGate(number) {
  const last = number ? state.values[`gate[${number}].name`] : "interface";
  turn([{ kind: "add", key: "gate", values: { name: `wall ${number + 1}`, follows: last, start: "0.6 us", width: "3 us" } }], "gate added");
}

const isChanged = (path, key) => (state.values[path] ?? null) !== (key.default ?? null);

function field(path, key) {
  const value = state.values[path];
  const id = "rule-" + path.replace(/[^a-z0-9_]/g, "-");
  const fault = faults.find((f) => f.key === path);
  const commit = (text) => {
    if (text === "" && (key.nullable || !key.required)) turn([{ kind: "clear", key: path }], `${path} left out`);
    else if (text !== value) turn([{ kind: "set", key: path, value: text }], `${path} = ${text}`);
  };
  let input;
  if (key.kind === "choice")
    input = el("select", { id, onchange: (e) => commit(e.target.value) }, ...key.choices.map((choice) => el("option", { value: choice.word, title: choice.text, selected: choice.word === value }, choice.word)));
  else if (key.kind === "switch") input = el("input", { id, type: "checkbox", checked: value === "true", onchange: (e) => commit(String(e.target.checked)) });
  else
    input = el("input", {
      id,
      type: "text",
      spellcheck: false,
      value: value ?? "",
      placeholder: key.nullable ? "left out" : (key.example ?? ""),
      oninput: (e) => (e.target.dataset.typing = "1"),
      onchange: (e) => {
        delete e.target.dataset.typing;
        commit(e.target.value.trim());
      },
    });
  const limits = [key.minimum !== null && key.minimum !== undefined ? `from ${key.minimum}` : "", key.maximum !== null && key.maximum !== undefined ? `to ${key.maximum}` : ""].filter(Boolean).join(" ");
  const about = key.kind === "choice" ? (key.choices.find((c) => c.word === value)?.text ?? "") : "";
  input.setAttribute("aria-describedby", id + "-about");
  if (fault) input.setAttribute("aria-invalid", "true");
  return el(
    "div",
    { class: "field" + (isChanged(path, key) && !path.includes("[") ? " changed" : "") },
    el("label", { htmlFor: id }, key.key),
    input,
    isChanged(path, key) && !key.required && !path.includes("[")
      ? el("button", { type: "button", class: "small", title: `back to ${key.default ?? "left out"}`, "aria-label": `${path} back to its default`, onclick: () => turn([{ kind: "clear", key: path }], `${path} back to its default`) }, "↺")
      : null,
    el("p", { id: id + "-about" }, [key.text, about, limits && `(${limits})`].filter(Boolean).join(" ")),
    fault ? el("p", { class: "fault" }, `${fault.what} To fix: ${fault.remedy}`) : null,
  );
}

function text() {
  const area = el("textarea", { id: "rule-text", rows: 18, spellcheck: false, value: state.plan.text ?? "", "aria-label": "Procedure as TOML", oninput: (e) => (e.target.dataset.typing = "1") });
  const box = el(
    "details",
    { open: opened.has("text") },
    el("summary", {}, el("b", {}, "as text"), el("span", {}, " the file itself, comments and all")),
    area,
    el("div", { class: "row" },
      el("button", { type: "button", onclick: () => {
        delete area.dataset.typing;
        turn([{ kind: "text", key: "", value: area.value }], "text changed");
      } }, "Use this text"),
      el("button", { type: "button", onclick: () => {
        delete area.dataset.typing;
        giveUp();
        faults = [];
        render();
      } }, "Give it up"),
    ),
  );
  box.addEventListener("toggle", () => (box.open ? opened.add("text") : opened.delete("text")));
  return box;
}
