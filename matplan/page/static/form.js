// The form, made from the job's schema. It writes into the job's text.

import { addingBar, awayButton } from "/static/adding.js";
import { get } from "/static/api.js";
import { fill, takenName } from "/static/field.js";
import { job, on } from "/static/job.js";
import { disclosure, focusWanted, partsOf } from "/static/rows.js";
import { sections } from "/static/sections.js";
import { namesIn } from "/static/values.js";

/** What fields complete from: the job's own names, then those of a table. */
const SUGGESTED = { frame: "frames", paper: "papers", board: "boards", glazing: "glazing", backing: "backing" };

const { body: tables } = await get("/api/tables");

export function formRoom(room) {
  let built = "";
  const refused = new Map(); // what was told of a field whose change the text did not take
  const show = () => {
    const parts = sections();
    const shape = JSON.stringify(parts, (name, value) => (SHAPELESS.has(name) ? undefined : value));
    if (shape !== built) build(room, parts);
    built = shape;
    fill(room, refused);
    focusAgain(room, null);
  };
  on("answer", show);
  on("chosen", show);
  on("text", () => refused.clear());
  on("refused", ({ edits, errors }) => {
    refused.clear();
    for (const { key } of edits) refused.set(key, errors[0].text);
    fill(room, refused);
  });
  on("go", ({ key }) => goTo(room, key));
  hints(room);
  room.addEventListener("submit", (event) => event.preventDefault());
  room.addEventListener("pointerover", ({ target }) => {
    if (target.dataset.role === "field") target.title = target.scrollWidth > target.clientWidth ? target.value : "";
  });
}

/** Show a field's words while it has the focus; while a button is being pressed nothing moves under the pointer. */
function hints(room) {
  let pressed = false;
  const show = () => {
    for (const each of room.querySelectorAll(".field.here")) if (!each.contains(document.activeElement)) each.classList.remove("here");
    if (room.contains(document.activeElement)) document.activeElement.closest(".field")?.classList.add("here");
  };
  const later = () => !pressed && show();
  room.addEventListener("focusin", later);
  room.addEventListener("focusout", () => setTimeout(later));
  document.addEventListener("pointerdown", () => (pressed = true), true);
  for (const end of ["pointerup", "pointercancel"]) document.addEventListener(end, () => setTimeout(() => show((pressed = false))), true);
}

/** What changes the fields' values and not the fields. */
const SHAPELESS = new Set(["value", "says", "examples", "entry", "common"]);

function build(room, parts) {
  const held = room.contains(document.activeElement) ? document.activeElement : null;
  const at = held && { key: held.dataset.key, act: held.dataset.act, caret: held.type === "text" ? held.selectionStart : null };
  const open = new Map([...room.querySelectorAll("details[data-title]")].map((each) => [each.dataset.title, each.open]));
  const renamed = takenName();
  if (renamed) {
    const goes = (key) => (key === renamed.from || key?.startsWith(`${renamed.from}.`) ? renamed.to + key.slice(renamed.from.length) : key);
    for (const id of [...open.keys()]) for (const begun of ["", "More of "]) if (id === `${begun}${renamed.from}`) open.set(`${begun}${renamed.to}`, open.get(id));
    if (at) at.key = goes(at.key);
  }
  room.replaceChildren(
    bar,
    ...parts.filter(({ keys }) => keys.length).map(({ title, id, keys, closed, away }) => {
      const group = disclosure(id, title, open.get(id) ?? !closed);
      const [first, rest] = [keys.filter(({ common }) => common), keys.filter(({ common }) => !common)];
      group.append(...partsOf(first, open));
      if (rest.length) {
        const more = first.length ? disclosure(`More of ${id}`, `More of ${title.replace(/^./, (letter) => letter.toLowerCase())}`, open.get(`More of ${id}`) ?? false) : group;
        more.append(...partsOf(rest, open));
        if (more !== group) group.append(more);
      }
      if (away) group.append(awayButton({ id, title }));
      return group;
    }),
    lists(),
  );
  focusAgain(room, at);
}

const bar = addingBar();

/** Give the focus back to what had it, or to what a change of a list wants it to go to. */
function focusAgain(room, at) {
  const wanted = focusWanted(room);
  const same = at && [...room.querySelectorAll("[data-key], [data-act]")].find(({ dataset }) => (at.key ? dataset.key === at.key : at.act && dataset.act === at.act));
  const next = wanted ?? same;
  if (!next) return;
  shown(next);
  next.focus({ preventScroll: true });
  if (wanted) next.scrollIntoView({ block: "nearest" });
  if (!wanted && at.caret !== null) next.setSelectionRange?.(at.caret, at.caret);
}

/** Open what a part of the form stands in. */
function shown(part) {
  for (let group = part.closest("details"); group; group = group.parentElement.closest("details")) group.open = true;
}

/** What tables and job know by name, for fields to complete from. */
function lists() {
  const all = document.createElement("div");
  all.hidden = true;
  for (const [kind, from] of Object.entries(SUGGESTED)) {
    const list = document.createElement("datalist");
    list.id = `names-${kind}`;
    for (const name of [...namesIn(kind), ...(tables[from] ?? [])]) list.append(new Option(name, name));
    all.append(list);
  }
  return all;
}

/** Go to a key's field, to the first one in it, or to the list or table that it would stand in. */
function goTo(room, key) {
  const fields = [...room.querySelectorAll("[data-role=field]")];
  let near = null;
  for (let place = key; place && !near; place = place.replace(/(\.?[^.[\]]+|\[\d+\]|\."[^"]*")$/, "")) {
    near = fields.find(({ dataset }) => dataset.key === place || dataset.also === place)
      ?? fields.find(({ dataset }) => dataset.key.startsWith(`${place}.`) || dataset.key.startsWith(`${place}[`))
      ?? room.querySelector(`[data-list="${CSS.escape(place)}"] > [data-act]`);
  }
  if (!near) return;
  shown(near);
  near.scrollIntoView({ block: "center" });
  near.focus({ preventScroll: true });
}
