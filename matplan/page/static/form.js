// The form, made from the job's schema: a key added there is here the same day. It writes into the job's text.

import { get } from "/static/api.js";
import { keyOf } from "/static/findings.js";
import { edit, job, on, rest, tell } from "/static/job.js";
import { moved } from "/static/lengths.js";

/** How a piece is worked on, group by group; keys that stand in no group go to the last one. */
const OF_A_PIECE = [
  ["Picture", ["name", "photo", "aspect", "show", "overlap", "reveal", "gap", "shape"]],
  ["Print", ["image", "paper", "opening", "viewing_distance"]],
  ["Mat", ["border", "weight", "mat", "border_to", "border_at", "even"]],
  ["Frame", ["frame", "turn"]],
  ["Glass and back", ["glazing", "backing", "mount", "lift", "spacer"]],
  ["Supply", ["mat_supply", "quantity"]],
];
const COMMON = new Set([
  "name", "photo", "image", "paper", "border", "weight", "mat", "frame", "turn", "glazing", "backing", "mat_supply", "quantity",
  "size", "takes", "rabbet", "rail", "depth", "have", "ply", "colour", "price", "eye", "gap", "arrange", "pieces", "printer_margin",
]); // prettier-ignore
/** Tables of the job with names of the user's own, and what one of them is called. */
const NAMED = { frame: "Frames", paper: "Papers", board: "Boards", glazing: "Glazing", backing: "Backing", hardware: "Hardware" };
const NAMES_OF = { frame: "frames", paper: "papers", board: "boards", glazing: "glazing", backing: "backing", mount: "boards", mat: "boards" };

const [{ body: schema }, { body: tables }] = await Promise.all([get("/api/schema"), get("/api/tables")]);

export function formRoom(room) {
  let built = "";
  const show = () => {
    const parts = sections();
    const shape = JSON.stringify(parts.map(({ title, keys }) => [title, keys.map(({ key }) => key)]));
    if (shape !== built) build(room, parts);
    built = shape;
    fill(room);
  };
  on("answer", show);
  on("chosen", show);
  on("go", ({ key }) => goTo(room, key));
}

// --- what the form holds ---------------------------------------------------------------------------------------------

function resolved(part) {
  return part?.$ref ? { ...schema.$defs[part.$ref.split("/").at(-1)], ...part, $ref: undefined } : part;
}

function sections() {
  const parts = [];
  const piece = job.pieces.find((each) => each.file === job.chosen.piece);
  const at = piece ? keyOf(piece) : "piece[1]";
  const keys = Object.keys(schema.$defs.Piece.properties);
  const grouped = new Set(OF_A_PIECE.flatMap(([, names]) => names));
  for (const [number, [title, names]] of OF_A_PIECE.entries()) {
    const last = number === OF_A_PIECE.length - 1;
    const all = [...names.filter((name) => keys.includes(name)), ...(last ? keys.filter((name) => !grouped.has(name)) : [])];
    parts.push({ title, keys: all.flatMap((name) => fieldsOf(`${at}.${name}`, name, schema.$defs.Piece.properties[name])) });
  }
  job.walls.forEach((wall, number) => parts.push(table(`Wall ${wall.name}`, `wall[${number + 1}]`, schema.$defs.Wall)));
  for (const [kind, title] of Object.entries(NAMED)) {
    const of = resolved(schema.properties[kind]?.additionalProperties);
    if (!of) continue;
    for (const name of namesIn(kind)) parts.push(table(`${title}: ${name}`, `${kind}.${quoted(name)}`, of));
  }
  parts.push(table("Job", "", { properties: Object.fromEntries(Object.entries(schema.properties).filter(([, part]) => isPlain(part))) }));
  for (const name of Object.keys(schema.properties)) {
    const part = resolved(schema.properties[name]);
    if (part.type === "object" && part.properties) parts.push(table(label(name), name, part));
  }
  return parts;
}

const table = (title, at, of) => ({
  title,
  closed: true,
  keys: Object.entries(of.properties).flatMap(([name, part]) => fieldsOf(at ? `${at}.${name}` : name, name, part)),
});

const isPlain = (part) => !["object", "array"].includes(resolved(part).type) && !resolved(part).additionalProperties;
const quoted = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : `"${name}"`);
const label = (name) => name.replaceAll("_", " ").replace(/^./, (letter) => letter.toUpperCase());

function namesIn(kind) {
  const found = Object.keys(job.values).map((key) => new RegExp(`^${kind}\\.("(?:[^"\\\\]|\\\\.)*"|[A-Za-z0-9_-]+)`).exec(key)?.[1]);
  return [...new Set(found.filter(Boolean))].map((name) => name.replace(/^"|"$/g, ""));
}

/** Return the fields of a key: itself, and its parts one by one where it may be a table. */
function fieldsOf(key, name, part, depth = 0) {
  const options = (resolved(part).anyOf ?? [part]).map(resolved).flatMap((one) => one.anyOf ?? [one]).map(resolved);
  const of = options.find((one) => one.type === "object" && one.properties);
  const plain = options.filter((one) => one.type !== "object" && one.type !== "array");
  const lists = options.some((one) => one.type === "array") || (options.some((one) => one.type === "object") && !of);
  const examples = [part, resolved(part), ...(part.anyOf ?? [])].flatMap((one) => one?.examples ?? []);
  const about = { key, name, says: part.description ?? "", usual: part.default, examples };
  const found = [];
  if (plain.length || lists) found.push({ ...about, kind: kindOf(plain, lists, examples), choices: plain.find((one) => one.enum)?.enum, common: depth === 0 && COMMON.has(name) && !(name === "gap" && key.startsWith("piece")) });
  if (of && depth === 0) {
    for (const [inner, each] of Object.entries(of.properties)) {
      found.push(...fieldsOf(`${key}.${inner}`, inner, each, 1).map((field) => ({ ...field, outer: name, common: COMMON.has(name) && name === "image" })));
    }
  }
  return found;
}

function kindOf(plain, lists, examples) {
  if (plain.some((one) => one.enum)) return "choice";
  if (plain.some((one) => one.type === "boolean")) return "tick";
  if (examples.includes("250 mm") || examples.includes("12 mm")) return "length";
  if (plain.some((one) => one.type === "integer")) return "count";
  return plain.length ? "text" : lists ? "list" : "text";
}

// --- built and filled ------------------------------------------------------------------------------------------------

function build(room, parts) {
  const open = new Map([...room.querySelectorAll("details[data-title]")].map((each) => [each.dataset.title, each.open]));
  room.replaceChildren(
    ...parts.filter(({ keys }) => keys.length).map(({ title, keys, closed }) => {
      const group = disclosure(title, open.get(title) ?? !closed);
      const [first, rest] = [keys.filter(({ common }) => common), keys.filter(({ common }) => !common)];
      group.append(...first.map(field));
      if (rest.length) {
        const more = first.length ? disclosure(`More of ${title.toLowerCase()}`, open.get(`More of ${title.toLowerCase()}`) ?? false) : group;
        more.append(...rest.map(field));
        if (more !== group) group.append(more);
      }
      return group;
    }),
    lists(),
  );
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

function field({ key, name, outer, says, kind, choices, usual, examples }) {
  const row = document.createElement("div");
  row.className = `field ${kind}`;
  const id = `field-${(number += 1)}`;
  const input = document.createElement(kind === "choice" ? "select" : "input");
  input.id = id;
  input.dataset.role = "field";
  input.dataset.key = key;
  input.setAttribute("aria-describedby", `${id}-says`);
  const usually = typeof usual === "string" || typeof usual === "number" ? String(usual) : "";
  if (kind === "choice") input.append(new Option(usually ? `${usually} (usual)` : "as usual", ""), ...choices.map((choice) => new Option(choice, choice)));
  else if (kind === "tick") input.type = "checkbox";
  else {
    input.autocomplete = "off";
    input.spellcheck = false;
    input.inputMode = kind === "count" ? "numeric" : "text";
    input.placeholder = usually || (examples.length ? `such as ${examples[0]}` : "");
    if (NAMES_OF[name]) input.setAttribute("list", `names-${name}`);
  }
  if (kind === "list") input.readOnly = true;
  const head = document.createElement("label");
  head.htmlFor = id;
  head.textContent = outer ? `${label(outer)}, ${name.replaceAll("_", " ")}` : label(name);
  const words = document.createElement("small");
  words.id = `${id}-says`;
  words.textContent = says;
  const wrong = document.createElement("small");
  wrong.className = "wrong";
  row.append(head, input, words, wrong);
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
    const value = job.values[input.dataset.key];
    if (input !== document.activeElement || input !== job.from || input.type === "checkbox") {
      if (input.type === "checkbox") input.checked = value === true;
      else input.value = value === undefined ? "" : Array.isArray(value) ? value.map(said).join(", ") : String(value);
    }
    const text = wrong.get(input.dataset.key);
    input.toggleAttribute("aria-invalid", Boolean(text));
    input.closest(".field").querySelector(".wrong").textContent = text ?? "";
  }
}

const said = (value) => (Array.isArray(value) ? `[${value.map(said).join(", ")}]` : typeof value === "object" ? JSON.stringify(value) : String(value));

function goTo(room, key) {
  const near = [...room.querySelectorAll("[data-role=field]")].find((input) => input.dataset.key === key)
    ?? [...room.querySelectorAll("[data-role=field]")].find((input) => key && input.dataset.key.startsWith(`${key}.`));
  if (!near) return;
  for (let group = near.closest("details"); group; group = group.parentElement.closest("details")) group.open = true;
  near.scrollIntoView({ block: "center" });
  near.focus({ preventScroll: true });
}
