// The form, made from the job's schema. It writes into the job's text.

import { addingBar } from "/static/adding.js";
import { get } from "/static/api.js";
import { edit, job, on, rest, tell } from "/static/job.js";
import { moved } from "/static/lengths.js";
import { focusWanted, listOf, valueAt } from "/static/rows.js";
import { fieldsOf, label, namesIn, sections } from "/static/sections.js";
import { toldOf } from "/static/words.js";

const NAMES_OF = { frame: "frames", paper: "papers", board: "boards", glazing: "glazing", backing: "backing", mount: "boards", mat: "boards" };

const { body: tables } = await get("/api/tables");

export function formRoom(room) {
  let built = "";
  const show = () => {
    const parts = sections();
    const shape = JSON.stringify(parts.map(({ title, keys }) => [title, keys.map(({ key, usual, rows }) => [key, usual, rows?.map((row) => [row.kind, row.key, row.kind === "stack" && row.value])])]));
    if (shape !== built) build(room, parts);
    built = shape;
    fill(room);
    focusAgain(room, null);
  };
  on("answer", show);
  on("chosen", show);
  on("go", ({ key }) => goTo(room, key));
  room.addEventListener("pointerover", ({ target }) => {
    if (target.dataset.role === "field") target.title = target.scrollWidth > target.clientWidth ? target.value : "";
  });
}


function build(room, parts) {
  const held = room.contains(document.activeElement) ? document.activeElement : null;
  const at = held && { key: held.dataset.key, act: held.dataset.act, caret: held.type === "text" ? held.selectionStart : null };
  const open = new Map([...room.querySelectorAll("details[data-title]")].map((each) => [each.dataset.title, each.open]));
  room.replaceChildren(
    bar,
    ...parts.filter(({ keys }) => keys.length).map(({ title, keys, closed }) => {
      const group = disclosure(title, open.get(title) ?? !closed);
      const [first, rest] = [keys.filter(({ common }) => common), keys.filter(({ common }) => !common)];
      group.append(...first.map(made));
      if (rest.length) {
        const more = first.length ? disclosure(`More of ${title.toLowerCase()}`, open.get(`More of ${title.toLowerCase()}`) ?? false) : group;
        more.append(...rest.map(made));
        if (more !== group) group.append(more);
      }
      return group;
    }),
    lists(),
  );
  focusAgain(room, at);
}

const bar = addingBar();
const made = (about) => (about.kind === "rows" ? listOf(about, { field, label, fieldsOf }) : field(about));

/** Give the focus back to what had it, or to what a change of a list wants it to go to. */
function focusAgain(room, at) {
  const wanted = focusWanted();
  const same = at && [...room.querySelectorAll("[data-key], [data-act]")].find(({ dataset }) => (at.key ? dataset.key === at.key : at.act && dataset.act === at.act));
  const next = (wanted && room.querySelector(wanted)) ?? same;
  if (!next) return;
  for (let group = next.closest("details"); group; group = group.parentElement.closest("details")) group.open = true;
  next.focus({ preventScroll: true });
  if (!wanted && at.caret !== null) next.setSelectionRange?.(at.caret, at.caret);
}

function disclosure(title, open) {
  const group = document.createElement("details");
  group.dataset.title = title;
  group.open = open;
  const head = document.createElement("summary");
  head.textContent = title;
  group.append(head);
  return group;
}

/** What tables and job know by name, for fields to complete from. */
function lists() {
  const all = document.createElement("div");
  all.hidden = true;
  for (const [kind, from] of Object.entries(NAMES_OF)) {
    const list = document.createElement("datalist");
    list.id = `names-${kind}`;
    for (const name of [...namesIn(kind === "mount" || kind === "mat" ? "board" : kind), ...(tables[from] ?? [])]) list.append(new Option(name, name));
    all.append(list);
  }
  return all;
}

let number = 0;

function field({ key, name, outer, shown, also, says, kind, choices, usual, examples }) {
  const row = document.createElement("div");
  row.className = `field ${kind}`;
  const id = `field-${(number += 1)}`;
  const input = document.createElement(kind === "choice" ? "select" : "input");
  input.id = id;
  input.dataset.role = "field";
  input.dataset.key = key;
  if (also) input.dataset.also = also;
  input.setAttribute("aria-describedby", `${id}-says ${id}-word`);
  const usually = typeof usual === "string" || typeof usual === "number" ? String(usual) : "";
  if (kind === "choice") input.append(new Option(usually ? `${usually} (usual)` : "as usual", ""), ...choices.map((choice) => new Option(choice, choice)));
  else if (kind === "tick") input.type = "checkbox";
  else {
    input.autocomplete = "off";
    input.spellcheck = false;
    input.inputMode = kind === "count" ? "numeric" : "text";
    input.placeholder = usually || (examples.length && (kind !== "length" || outer === "image") ? `such as ${examples[0]}` : "");
    if (NAMES_OF[name]) input.setAttribute("list", `names-${name}`);
  }
  if (kind === "list") input.readOnly = true;
  const head = document.createElement("label");
  head.htmlFor = id;
  head.textContent = shown ? shown.replace(/^./, (letter) => letter.toUpperCase()) : outer ? `${label(outer)}, ${name.replaceAll("_", " ")}` : label(name);
  const words = document.createElement("small");
  words.id = `${id}-says`;
  words.textContent = says;
  const trade = document.createElement("small");
  trade.id = `${id}-word`;
  trade.className = "word";
  trade.textContent = toldOf(name, outer);
  const wrong = document.createElement("small");
  wrong.className = "wrong";
  row.append(head, input, words, trade, wrong);
  if (kind === "list") input.addEventListener("click", () => tell("line", { line: job.lines[key] ?? null }));
  else input.addEventListener(kind === "choice" || kind === "tick" ? "change" : "input", () => put(input, kind));
  input.addEventListener("change", rest);
  if (kind === "length") input.addEventListener("keydown", stride);
  return row;
}

function put(input, kind) {
  const text = input.value.trim();
  const value = kind === "tick" ? input.checked || null : text === "" ? null : kind === "count" && /^\d+$/.test(text) ? Number(text) : text;
  edit([{ key: input.dataset.key, value }], { joined: input.dataset.key, from: input });
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
  put(input, "length");
}

function fill(room) {
  const wrong = new Map(job.errors.map((error) => [error.where, error.text]));
  for (const input of room.querySelectorAll("[data-role=field]")) {
    const value = valueAt(input.dataset.key);
    if (input !== document.activeElement || input !== job.from || input.type === "checkbox") {
      if (input.type === "checkbox") input.checked = value === true;
      else input.value = value === undefined ? "" : Array.isArray(value) ? value.map(said).join(", ") : String(value);
    }
    const text = wrong.get(input.dataset.key) ?? wrong.get(input.dataset.also);
    input.toggleAttribute("aria-invalid", Boolean(text));
    input.closest(".field").querySelector(".wrong").textContent = text ?? "";
  }
}

const said = (value) => (Array.isArray(value) ? `[${value.map(said).join(", ")}]` : typeof value === "object" ? JSON.stringify(value) : String(value));

function goTo(room, key) {
  const near = [...room.querySelectorAll("[data-role=field]")].find((input) => input.dataset.key === key)
    ?? [...room.querySelectorAll("[data-role=field]")].find((input) => key && (input.dataset.key.startsWith(`${key}.`) || input.dataset.key.startsWith(`${key}[`) || input.dataset.also === key));
  if (!near) return;
  for (let group = near.closest("details"); group; group = group.parentElement.closest("details")) group.open = true;
  near.scrollIntoView({ block: "center" });
  near.focus({ preventScroll: true });
}
