// The decision strip: one A-scan told from left to right. Above, the sentences of `ett explain` in the order of the decisions; below, the
// A-scan with what they speak of: interface, gates or candidates, the pair, the runner-up, the range of walls.
import uPlot from "./vendor/uplot.js";
import { byId, el, ink, micrometres, millimetres, percent, rem } from "./util.js";
import { on, state } from "./store.js";
import { placeHandles } from "./handles.js";

let plot = null;
let shownOf = "";
let trueHeights = false;
const RAISED = 2; // per cent of full scale under which heights are true while small echoes are raised

export function initStrip() {
  on("explained", () => {
    story();
    chart();
  });
  on("theme", remake);
  byId("heights").onclick = () => {
    trueHeights = !trueHeights;
    byId("heights").setAttribute("aria-pressed", String(trueHeights));
    remake();
  };
  new ResizeObserver(() => {
    if (plot) plot.setSize(size());
  }).observe(byId("chart-box"));
}

function remake() {
  if (plot) plot.destroy();
  plot = null;
  if (state.explained) chart();
}

const size = () => ({ width: Math.max(200, byId("chart").clientWidth), height: Math.max(120, byId("chart-box").clientHeight) });

export const wallOf = (told) => told.explained.thickness_metres ?? NaN;

/** Beats of the story: a heading and sentences, in the order in which things were decided. */
function story() {
  const told = state.explained;
  const cell = told.explained;
  const beats = [];
  for (const step of cell.steps) {
    const last = beats.at(-1);
    if (last?.stage === step.stage) last.texts.push(step.text);
    else beats.push({ stage: step.stage, title: step.stage[0].toUpperCase() + step.stage.slice(1), texts: [step.text], role: roleOf(step.stage) });
  }
  const paired = cell.echoes.filter((echo) => echo.paired);
  if (cell.echoes.length)
    insertBefore(beats, ["pairing", "timing", "decision"], {
      title: "Candidates",
      role: "plain",
      texts: [`${cell.echoes.length} echoes considered; the wall rests on ${paired.length ? paired.map((echo) => echo.role).join(", ") : "none of them"}.`],
    });
  const wall = wallOf(told);
  beats.push({
    title: "Wall",
    role: "pair",
    big: Number.isFinite(wall) ? millimetres(wall) : state.session.statuses[statusOf(cell)],
    texts: [Number.isFinite(wall) ? `± ${millimetres(cell.uncertainty_metres)} (k = 1), ${state.session.statuses[statusOf(cell)]}` : "no wall is stated"],
  });
  if (cell.runner_up_thickness_metres !== null)
    beats.push({
      title: "Runner-up",
      role: "rival",
      big: millimetres(cell.runner_up_thickness_metres),
      texts: [`margin ${cell.margin.toFixed(2)} (0 a tie, 1 no rival)` + (told.wrongEchoProbability !== null ? `; chance of a wrong echo ${percent(told.wrongEchoProbability, 2)}` : "")],
    });
  if (cell.uncertainty_budget.length)
    beats.push({
      title: "Budget",
      role: "plain",
      texts: cell.uncertainty_budget.filter((row) => !row.source.startsWith("  ")).map((row) => `${row.source}: ${micrometres(row.standard_uncertainty_metres)}`),
    });
  byId("story").replaceChildren(
    ...beats.map((beat) =>
      el("li", { class: "beat " + beat.role }, el("h3", {}, beat.title), beat.big ? el("p", { class: "big" }, beat.big) : null, el("p", { title: beat.texts.join("\n") }, beat.texts.join(" "))),
    ),
  );
}

function insertBefore(beats, stages, beat) {
  const at = beats.findIndex((b) => stages.includes(b.stage));
  beats.splice(at < 0 ? beats.length : at, 0, beat);
}

export const statusOf = (cell) => state.session.statuses.findIndex((name) => name === cell.status.replace(/[A-Z]/g, (c, at) => (at ? " " : "") + c.toLowerCase()));

const roleOf = (stage) => (stage === "interface" ? "front" : stage.startsWith("gate") ? "gate" : ["pairing", "timing", "decision", "estimation"].includes(stage) ? "pair" : "plain");

/** Seconds on the time base at which a wall's first back-wall echo would lie. */
export function timeOfWall(told, metres) {
  const front = told.explained.interface.seconds;
  return front === null ? NaN : front + (told.zeroSeconds ?? 0) + (2 * metres) / told.explained.velocity.metres_per_second;
}

function chart() {
  const told = state.explained;
  const n = told.raw.length;
  const times = new Float64Array(n);
  for (let i = 0; i < n; i++) times[i] = (told.startSeconds + i / told.sampleRateHz) * 1e6;
  const part = (values) => (values.length === n ? Array.from(values, (v) => v * 100) : new Array(n).fill(null));
  const data = [times, part(told.raw), part(told.signal), part(told.envelope)];
  const key = `${n} ${told.startSeconds}`;
  if (!plot || shownOf !== key) {
    if (plot) plot.destroy();
    plot = make(data);
    shownOf = key;
    plot.setScale("x", reach(told, times));
  } else {
    plot.setData(data, false);
    plot.setScale("y", { min: null, max: null });
    plot.redraw();
  }
  placeHandles(plot);
}

/** From a little before the interface to where the last thing of interest lies; the whole record can be reached by a double click. */
function reach(told, times) {
  const cell = told.explained;
  const front = cell.interface.seconds;
  if (front === null || !times.length) return { min: times[0] ?? 0, max: times.at(-1) ?? 1 };
  let end = Math.max(...cell.gates.map((gate) => gate.end_seconds), ...cell.echoes.filter((echo) => echo.paired).map((echo) => echo.seconds), front + 4e-6);
  end = front + (end - front) * 1.15;
  return { min: Math.max(times[0], front * 1e6 - 0.6), max: Math.min(times.at(-1), end * 1e6) };
}

function make(data) {
  const text = Math.round(0.75 * rem());
  const font = `${text}px ${ink("plain")}`;
  const axis = (label, more) => ({ font, labelFont: font, stroke: ink("quiet"), grid: { stroke: ink("rule"), width: 1 }, ticks: { stroke: ink("rule"), width: 1 }, label, labelSize: text * 1.5, ...more });
  return new uPlot(
    {
      ...size(),
      padding: [text * 1.6, text, 0, 0],
      legend: { show: false },
      cursor: { drag: { x: true, y: false }, points: { show: false } },
      scales: {
        x: { time: false },
        y: {
          ...(trueHeights ? {} : { distr: 4, asinh: RAISED }),
          range: (_, low, high) => {
            const most = Math.max(Math.abs(low ?? 0), Math.abs(high ?? 0), 1) * 1.08;
            return state.session.stack.rectified ? [-0.03 * most, most] : [-most, most];
          },
        },
      },
      series: [
        {},
        { stroke: ink("raw"), width: 1, points: { show: false } },
        { stroke: ink("signal"), width: 1.2, points: { show: false } },
        { stroke: ink("envelope"), width: 1.2, points: { show: false } },
      ],
      axes: [axis("time from the pulse, µs", { size: text * 2.7 }), axis("% of full scale", { size: text * 3.4, ...(trueHeights ? {} : { splits: raisedSplits, filter: (_, splits) => splits }) })],
      hooks: { drawClear: [under], draw: [over], setScale: [(u) => placeHandles(u)], setSize: [(u) => placeHandles(u)] },
    },
    data,
    byId("chart"),
  );
}

/** Round heights that keep apart when small ones are raised. */
const raisedSplits = (u, _, low, high) => [-100, -30, -10, -3, 0, 3, 10, 30, 100].filter((v) => v >= low && v <= high);

const X = (u, seconds) => u.valToPos(seconds * 1e6, "x", true);
const Y = (u, fraction) => u.valToPos(fraction * 100, "y", true);

/** What lies under the signal: gates, the range of walls. */
function under(u) {
  const told = state.explained;
  if (!told) return;
  const { ctx } = u;
  const { left, top, width, height } = u.bbox;
  const dots = devicePixelRatio || 1;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  told.explained.gates.forEach((gate, i) => {
    const from = X(u, gate.start_seconds);
    const to = X(u, gate.end_seconds);
    ctx.fillStyle = ink("gate-wash-" + ((i % 2) + 1));
    ctx.fillRect(from, top, to - from, height);
  });
  const low = timeOfWall(told, metresOf("wall.minimum"));
  const high = timeOfWall(told, metresOf("wall.maximum"));
  if (Number.isFinite(low + high)) {
    const y = top + height - 5 * dots;
    ctx.strokeStyle = ink("quiet");
    ctx.lineWidth = 1.5 * dots;
    ctx.beginPath();
    ctx.moveTo(X(u, low), y - 4 * dots);
    ctx.lineTo(X(u, low), y);
    ctx.lineTo(X(u, high), y);
    ctx.lineTo(X(u, high), y - 4 * dots);
    ctx.stroke();
  }
  ctx.restore();
}

export const metresOf = (key) => {
  const match = /^([\d.eE+-]+) (mm|um|m)$/.exec(state.values[key] ?? "");
  return match ? Number(match[1]) * { mm: 1e-3, um: 1e-6, m: 1 }[match[2]] : NaN;
};

/** What lies over the signal: levels, interface, candidates, the pair and its rival. */
function over(u) {
  const told = state.explained;
  if (!told) return;
  const cell = told.explained;
  const { ctx } = u;
  const { left, top, width, height } = u.bbox;
  const dots = devicePixelRatio || 1;
  const text = Math.round(0.72 * rem() * dots);
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top - 2 * text, width + text, height + 2 * text);
  ctx.clip();
  ctx.font = `${text}px ${ink("plain")}`;
  const line = (x0, y0, x1, y1, colour, pen, dash = []) => {
    ctx.strokeStyle = ink(colour);
    ctx.lineWidth = pen * dots;
    ctx.setLineDash(dash.map((d) => d * dots));
    ctx.beginPath();
    ctx.moveTo(x0, y0);
    ctx.lineTo(x1, y1);
    ctx.stroke();
    ctx.setLineDash([]);
  };
  const front = cell.interface;
  if (front.level_fraction > 0) line(X(u, front.search_start_seconds), Y(u, front.level_fraction), Math.min(X(u, front.search_end_seconds), X(u, front.seconds ?? front.search_end_seconds)), Y(u, front.level_fraction), "front", 1.5, [5, 3]);
  cell.gates.forEach((gate) => line(X(u, gate.start_seconds), Y(u, gate.level_fraction), X(u, gate.end_seconds), Y(u, gate.level_fraction), "gate", 2));
  if (told.candidateLevelFraction > 0 && !cell.gates.length) line(left, Y(u, told.candidateLevelFraction), left + width, Y(u, told.candidateLevelFraction), "quiet", 1, [2, 4]);
  if (front.seconds !== null) {
    line(X(u, front.seconds), top, X(u, front.seconds), top + height, "front", 1.5);
    ctx.fillStyle = ink("front");
    ctx.textAlign = "left";
    ctx.textBaseline = "bottom";
    ctx.fillText("interface", X(u, front.seconds) + 3 * dots, top - 2 * dots);
  }
  ctx.textAlign = "center";
  const taken = [];
  for (const echo of cell.echoes) {
    const x = X(u, echo.seconds);
    const y = Y(u, echo.amplitude_fraction);
    if (x < left || x > left + width) continue;
    ctx.fillStyle = ink(echo.paired ? "pair" : "quiet");
    const r = (echo.paired ? 5 : 3.4) * dots;
    ctx.beginPath();
    // The pair is told by shape as well as by colour.
    if (echo.paired) ctx.rect(x - r, y - r, 2 * r, 2 * r);
    else ctx.arc(x, y, r, 0, 7);
    ctx.fill();
    const name = echo.role.replace(/^back-wall echo (\d+).*/, "wall $1").replace("couplant multiple", "couplant").replace("not explained", "?").replace("scatter or ring-down", "");
    const wide = ctx.measureText(name).width;
    if (!name || name === "interface" || taken.some(([a, b]) => x - wide / 2 < b && x + wide / 2 > a)) continue;
    taken.push([x - wide / 2, x + wide / 2]);
    ctx.fillText(name, x, Math.max(top + text, y - r - 2 * dots));
  }
  bracket(u, line, ctx, told, text, dots);
  ctx.restore();
}

/** The round trip that was taken for the wall, and dashed the one that came second. */
function bracket(u, line, ctx, told, text, dots) {
  const cell = told.explained;
  const at = u.bbox.top + u.bbox.height;
  const span = (from, to, y, colour, dash, label) => {
    line(X(u, from), y, X(u, to), y, colour, 2, dash);
    for (const end of [from, to]) line(X(u, end), y - 4 * dots, X(u, end), y + 4 * dots, colour, 2);
    ctx.fillStyle = ink(colour);
    ctx.textBaseline = "bottom";
    const x = (Math.max(X(u, from), u.bbox.left) + Math.min(X(u, to), u.bbox.left + u.bbox.width)) / 2;
    ctx.fillText(label, x, y - 2 * dots);
  };
  const order = (n) => (n === 0 ? cell.interface.seconds : n === 1 ? cell.first_echo_seconds : n === 2 ? cell.second_echo_seconds : null);
  const trip = (2 * wallOf(told)) / cell.velocity.metres_per_second;
  const start = order(told.pairFrom) ?? cell.interface.seconds ?? cell.first_echo_seconds;
  if (Number.isFinite(trip) && start !== null) {
    const zero = told.pairFrom === 0 ? (told.zeroSeconds ?? 0) : 0;
    const end = order(told.pairTo) ?? start + zero + trip;
    const orders = Math.max(1, told.pairTo - told.pairFrom);
    const label = told.pairTo <= 2 && orders > 1 ? `${orders} × ${millimetres(wallOf(told))}` : millimetres(wallOf(told));
    span(start, told.pairTo <= 2 ? end : start + zero + trip, at - 2.1 * text, "pair", [], label);
  }
  const rival = cell.runner_up_thickness_metres;
  if (rival !== null && cell.interface.seconds !== null) span(cell.interface.seconds, timeOfWall(told, rival), at - 3.6 * text, "rival", [5, 4], `runner-up ${millimetres(rival, 2)}`);
}
