// Lists of the job as rows of the form: layers of a mat, windows of a piece, groups of a wall, points, stacks. A row is
// added, moved, taken away; each of its keys is a field of its own, and a list in it has rows again.

import { field, small } from "/static/field.js";
import { edit, job, on, settled } from "/static/job.js";
import { asLength } from "/static/lengths.js";
import { label } from "/static/parts.js";
import { added, movedAcross, stacked, takenAway, unstacked } from "/static/seeds.js";
import { namesOfList, quoted, rowsOf } from "/static/values.js";

/** So many fields stand in view; of more, the common ones alone. */
const IN_VIEW = 8;

let wanted = null;
on("refused", () => (wanted = null));

/** Return the part of the form that the focus is to go to, once it is there; an answer to an earlier text has it not yet. */
export function focusWanted(room) {
  const found = wanted?.map((each) => room.querySelector(each)).find(Boolean);
  if (found) wanted = null;
  return found;
}

/** Let the focus go to a key's field once it is there. */
export const focusOn = (key) => (wanted = [within(key)]);

const act = (name, key) => `[data-act="${name} ${CSS.escape(key)}"]`;
const within = (key) => `[data-key="${CSS.escape(key)}"], [data-key^="${CSS.escape(`${key}.`)}"], [data-key^="${CSS.escape(`${key}[`)}"]`;

/** Return the parts of the form for some fields, one below the other; `open` tells which disclosures are open. */
export function partsOf(fields, open) {
  return fields.map((about) => (about.kind === "rows" ? listOf(about, open) : about.kind === "named" ? placesOf(about, open) : field(about)));
}

/** A head that opens and closes what stands below it. */
export function disclosure(id, title, open) {
  const group = document.createElement("details");
  group.dataset.title = id;
  group.open = open;
  const head = document.createElement("summary");
  head.textContent = title;
  group.append(head);
  return group;
}

function fieldset(title, { says = "", key } = {}) {
  const group = document.createElement("fieldset");
  const legend = document.createElement("legend");
  legend.textContent = title;
  group.append(legend);
  if (says) group.append(Object.assign(small("about", ""), { textContent: says }));
  if (key) {
    group.dataset.list = key;
    group.append(small("wrong", ""));
  }
  return group;
}

const singularOf = (name) => ({ mat: "layer", aperture: "window", points: "corner", floor: "point", outline: "point", corners: "corner", near: "pair", apart: "pair", furniture: "thing", keep_clear: "thing" })[name] ?? name.replaceAll("_", " ").replace(/(?<=[^s])s$/, "");

function listOf(list, open) {
  const { key, name, says, entry, rows } = list;
  const inner = /\]$/.test(key); // a list within a list
  const one = inner && name === "rows" ? "window" : singularOf(name);
  const itself = inner ? (name === "pieces" ? "Stack, upper first" : label(singularOf(name))) : list.outer ? `${label(list.outer)}, ${name}` : label(name);
  const group = fieldset(itself, { says, key });
  for (const [at, row] of rows.entries()) group.append(rowOf(row, at));
  if (!entry.fixed || rows.length < entry.fixed) {
    if (!(inner && name === "rows")) group.append(button("Add", `Add: ${one}`, `add ${key}`, add));
  }
  return group;

  function rowOf(row, at) {
    const title = `${one} ${at + 1}`;
    const made = row.kind === "table" && !entry.short ? fieldset(label(titleOf(row, title))) : document.createElement("div");
    made.classList.add("row");
    made.append(...contents(row, title));
    made.append(buttons(row, at, title));
    return made;
  }

  function contents(row, title) {
    if (row.kind === "table" && !entry.short) return inView(row.parts, row.key, title, open);
    return partsOf(row.parts.map((each) => (each.kind === "rows" ? each : { ...each, shown: each.key === row.key ? title : `${title}, ${each.name.replaceAll("_", " ")}` })), open);
  }

  function buttons(row, at, title) {
    const bar = document.createElement("span");
    bar.className = "buttons";
    const shelved = inner && name === "rows"; // a window stands in one row: it is moved, never left out
    const number = Number(/\[(\d+)\]$/.exec(key)?.[1]);
    const last = rows.length - 1;
    const rowsAround = shelved ? rowsOf(key.replace(/\[\d+\]$/, "")).length : 0;
    if (at > 0) bar.append(button("Up", `Move ${title} up`, `up ${row.key}`, () => swap(at, at - 1, "up")));
    else if (shelved && number > 1) bar.append(button("Up", `Move ${title} to the row above`, `up ${row.key}`, () => across(at, -1)));
    if (at < last) bar.append(button("Down", `Move ${title} down`, `down ${row.key}`, () => swap(at, at + 1, "down")));
    else if (shelved && number < rowsAround) bar.append(button("Down", `Move ${title} to the row below`, `down ${row.key}`, () => across(at, 1)));
    if (entry.list && entry.plain && row.kind === "plain" && at < last) bar.append(button("Stack", `Stack ${title} on what follows`, `stack ${row.key}`, () => change(row.key, () => stacked(list, at))));
    if (entry.list && entry.plain && row.kind === "list") bar.append(button("Unstack", `Take the stack ${title} apart`, `unstack ${row.key}`, () => change(row.key, () => unstacked(list, at))));
    const may = (row.value !== undefined || !row.alone) && !entry.fixed && !shelved && !(name === "rows" && rows.length > 1);
    if (may) bar.append(button("Take away", `Take ${title} away`, `away ${row.key}`, () => change(null, () => takenAway(list, row), act("add", key))));
    return bar;
  }

  async function change(at, edits, focus = null) {
    await settled();
    wanted = [focus, at && within(at)].filter(Boolean);
    const made = edits();
    if (made) edit(made);
  }

  async function add() {
    await settled();
    const { at, edits } = added(list, one);
    wanted = [within(at)];
    edit(edits);
  }

  async function across(at, way) {
    await settled();
    const edits = movedAcross(list, at, way);
    if (edits) wanted = [within(edits[0].key)];
    if (edits) edit(edits);
  }

  async function swap(from, to, way) {
    await settled();
    wanted = [act(way, rows[to].key), within(rows[to].key)];
    const now = rowsOf(key);
    const [upper, lower] = [Math.min(from, to), Math.max(from, to)];
    if (name === "mat" && upper === 0) {
      const [front, back] = withoutReveal(now[lower].value, now[upper].value);
      edit([{ key: rows[upper].key, value: front }, { key: rows[lower].key, value: back }]);
    } else edit([{ key: rows[upper].key, swap: rows[lower].key }]);
  }
}

/** What an entry is called: by its own name where it has one. */
const titleOf = (row, title) => (row.value?.name ? `${title}: ${row.value.name}` : title);

/** The fields of a table of a list: all where they are few, else the common ones, and the others one step away. */
function inView(fields, key, title, open) {
  if (fields.length <= IN_VIEW) return partsOf(fields, open);
  const more = disclosure(`More of ${key}`, `More of ${title}`, open.get(`More of ${key}`) ?? false);
  more.append(...partsOf(fields.filter(({ common }) => !common), open));
  return [...partsOf(fields.filter(({ common }) => common), open), more];
}

/** Where things are put by name: a table for each, and a choice of those that have none. */
function placesOf({ key, name, says, rows }, open) {
  const group = fieldset(name === "at" ? "Places" : label(name), { says, key });
  for (const row of rows) {
    const made = fieldset(row.title);
    made.classList.add("row");
    made.append(...partsOf(row.parts, open));
    const bar = document.createElement("span");
    bar.className = "buttons";
    bar.append(button("Take away", `Take the place of ${row.title} away`, `away ${row.key}`, () => {
      wanted = [act("add", key)];
      edit([{ key: row.key, value: null }]);
    }));
    made.append(bar);
    group.append(made);
  }
  const frames = job.walls[/^wall\[(\d+)\]/.exec(key)?.[1] - 1]?.frames ?? [];
  const free = namesOfList("piece").filter((piece) => !rows.some(({ title }) => title === piece) && frames.some((frame) => frame.piece === piece));
  const choice = document.createElement("select");
  choice.dataset.act = `add ${key}`;
  choice.setAttribute("aria-label", "Put a piece at a place of its own");
  choice.append(new Option("Put a piece …", ""), ...free.map((piece) => new Option(piece, piece)));
  choice.addEventListener("change", () => {
    const frame = frames.find(({ piece }) => piece === choice.value);
    const at = `${key}.${quoted(choice.value)}`;
    wanted = [within(at)];
    const { step, units } = job.plan;
    if (frame) edit([{ key: at, value: { bottom: asLength(frame.bottom, step, units) } }]); // so it keeps its place in its row
  });
  if (free.length) group.append(choice);
  return group;
}

/** The front layer has no reveal: it goes over to the layer that comes behind it. */
function withoutReveal(front, back) {
  const { reveal, ...rest } = typeof front === "string" ? { board: front } : front;
  const behind = typeof back === "string" ? { board: back } : back;
  return [Object.keys(rest).length > 1 ? rest : rest.board, reveal === undefined ? back : { ...behind, reveal }];
}

export function button(text, says, name, does) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.setAttribute("aria-label", says);
  made.dataset.act = name;
  made.addEventListener("click", does);
  return made;
}
