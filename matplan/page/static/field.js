// One field of the form: a key of the job with its word, its unit's stride, and what is wrong with it beside it.

import { edit, job, rest, tell } from "/static/job.js";
import { moved } from "/static/lengths.js";
import { label } from "/static/parts.js";
import { valueAt } from "/static/values.js";
import { toldOf } from "/static/words.js";

let number = 0;
let name = null;

/** Return what was renamed last, once: { from, to } as places in the text; the focus goes along. */
export function takenName() {
  const last = name;
  name = null;
  return last;
}

export function field(about) {
  const row = document.createElement("div");
  row.className = `field ${about.kind}`;
  const id = `field-${(number += 1)}`;
  const inputs = about.kind === "tuple" ? about.parts.map((part, at) => inputOf({ ...part, also: about.key, usual: undefined }, at ? `${id}-${at}` : id)) : [inputOf(about, id)];
  for (const input of inputs) input.setAttribute("aria-describedby", `${id}-says ${id}-word ${id}-wrong`);
  const head = document.createElement("label");
  head.htmlFor = id;
  head.textContent = titleOf(about);
  if (inputs.length > 1) for (const [at, input] of inputs.entries()) input.setAttribute("aria-label", `${head.textContent}, ${at + 1} of ${inputs.length}`);
  const together = document.createElement("span");
  together.className = "together";
  together.append(...inputs);
  row.append(head, inputs.length > 1 ? together : inputs[0], ...["says", "word", "wrong"].map((part) => small(part, `${id}-${part}`)));
  row.querySelector(".says").textContent = about.says;
  row.querySelector(".word").textContent = toldOf(about.name, about.outer);
  return row;
}

const titleOf = ({ name: key, outer, shown }) => (shown ? shown.replace(/^./, (letter) => letter.toUpperCase()) : outer ? `${label(outer)}, ${key.replaceAll("_", " ")}` : label(key));

export function small(part, id) {
  const words = document.createElement("small");
  words.className = part;
  words.id = id;
  return words;
}

function inputOf({ key, also, own, names, outer, kind, choices, usual, examples }, id) {
  const input = document.createElement(kind === "choice" ? "select" : "input");
  input.id = id;
  input.dataset.role = "field";
  input.dataset.key = key;
  input.dataset.kind = kind;
  if (also) input.dataset.also = also;
  if (own !== undefined) input.dataset.own = own;
  const usually = typeof usual === "string" || typeof usual === "number" ? String(usual) : "";
  if (kind === "choice") input.append(new Option(usually ? `${usually} (usual)` : "as usual", ""), ...choices.map((choice) => new Option(choice, choice)));
  else if (kind === "tick") input.type = "checkbox";
  else {
    input.autocomplete = "off";
    input.spellcheck = false;
    input.inputMode = kind === "count" ? "numeric" : "text";
    input.placeholder = usually || (examples.length && (kind !== "length" || outer === "image") ? `such as ${examples[0]}` : "");
    if (names) input.setAttribute("list", `names-${names}`);
  }
  if (kind === "name") {
    input.addEventListener("input", () => (input.dataset.begun = "")); // nothing is renamed before the name is whole
    input.addEventListener("change", () => rename(input));
  } else input.addEventListener(kind === "choice" || kind === "tick" ? "change" : "input", () => (also ? putAll(input) : put(input)));
  if (kind === "list") {
    input.readOnly = true;
    input.addEventListener("click", () => tell("line", { line: job.lines[key] ?? null }));
  }
  input.addEventListener("change", rest);
  if (kind === "length") input.addEventListener("keydown", stride);
  return input;
}

/** What a field says, as the job has it: numbers as numbers, nothing as `null`. */
function said({ type, checked, value, dataset: { kind } }) {
  if (type === "checkbox") return checked || null;
  const text = value.trim();
  const plain = { count: /^\d+$/, number: /^(\d+\.?\d*|\.\d+)$/ }[kind]?.test(text);
  return text === "" ? null : plain ? Number(text) : text;
}

const put = (input) => written(input, input.dataset.key, said(input));

let strokes = 0;

/** Write a value; until the text has it, an answer to an earlier text leaves the field as it is. */
async function written(input, key, value) {
  const stroke = String((strokes += 1));
  input.dataset.begun = stroke;
  await edit([{ key, value }], { joined: key, from: input });
  if (input.dataset.begun === stroke) delete input.dataset.begun;
}

/** Write all values that stand side by side: one of them alone is no point. */
function putAll(input) {
  const values = [...input.parentElement.children].map(said);
  const key = input.dataset.also;
  const none = values.every((value) => value === null) && !/\]$/.test(key);
  written(input, key, none ? null : values.map((value) => value ?? ""));
}

/** Give a thing its new name, and with it all that names it; one that has none yet just gets it. */
async function rename(input) {
  const { key, own } = input.dataset;
  const before = own ?? valueAt(key);
  const after = input.value.trim();
  delete input.dataset.begun;
  if (after === before) return;
  if (own !== undefined) name = { from: key, to: `${key.slice(0, key.indexOf("."))}.${/^[A-Za-z0-9_-]+$/.test(after) ? after : `"${after.replaceAll('"', '\\"')}"`}` };
  const done = await edit([before === undefined ? { key, value: after } : { key, name: after }]);
  if (!done) name = null;
}

/** The arrow keys move a length by one step of the job, with the shift key by ten. */
function stride(event) {
  const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
  if (!way || !job.plan) return;
  const input = event.currentTarget;
  const next = moved(input.value || String(input.placeholder), way * (event.shiftKey ? 10 : 1), job.plan.step, job.plan.units);
  if (next === null) return;
  event.preventDefault();
  input.value = next;
  input.dispatchEvent(new Event("input"));
}

/** Show in each field what the text says, and what is wrong with it; the one that is being typed in stays as it is. */
export function fill(room, refused) {
  const wrong = new Map([...job.errors.map((error) => [error.where, error.text]), ...refused]);
  for (const input of room.querySelectorAll("[data-role=field]")) {
    const { key, also, own } = input.dataset;
    const text = wrong.get(key) ?? wrong.get(also);
    const active = input === document.activeElement && input.type !== "checkbox";
    const typed = "begun" in input.dataset || (active && (input === job.from || refused.has(key)));
    if (!typed) show(input, own ?? valueAt(key));
    input.toggleAttribute("aria-invalid", Boolean(text));
    const told = input.closest(".field").querySelector(".wrong");
    if (!also || text || input === input.parentElement.firstChild) told.textContent = text ?? "";
  }
  for (const list of room.querySelectorAll("fieldset[data-list]")) list.querySelector(":scope > .wrong").textContent = wrong.get(list.dataset.list) ?? "";
}

function show(input, value) {
  if (input.type === "checkbox") input.checked = value === true;
  else {
    const text = value === undefined ? "" : typeof value === "object" ? JSON.stringify(value) : String(value);
    if (input.tagName === "SELECT" && ![...input.options].some((option) => option.value === text)) input.append(new Option(text, text));
    if (input.value !== text) input.value = text;
  }
}
