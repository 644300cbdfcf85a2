// Lists of the job as rows of the form: layers of a mat, pieces of a wall, what to keep clear. A row is added, moved,
// taken away; each of its keys is a field of its own.

import { edit, job, settled } from "/static/job.js";

/** Return what one entry of a list is: { plain, of } for a name, a table of plain keys, or either; null for anything else. */
export function entryOf(items, resolved) {
  const options = (items?.anyOf ?? [items]).map(resolved).filter(Boolean);
  const of = options.find((one) => one.type === "object" && one.properties);
  const plain = options.find((one) => one.type === "string");
  const simple = (part) => !["array", "object"].includes(resolved(part).type) && !(part.anyOf ?? []).some((one) => ["array", "object"].includes(resolved(one).type));
  if (of && !Object.values(of.properties).every(simple)) return null;
  return of || plain ? { of, plain, short: of && plain ? of.required?.[0] : null } : null;
}

/** Return the rows of a list as the text has them: { key, kind } with the kind "plain", "table" or "stack"; `alone` stands without a list. */
export function rowsOf(key, mayStandAlone) {
  const value = job.values[key];
  if (Array.isArray(value)) return value.map((one, at) => ({ key: `${key}[${at + 1}]`, kind: Array.isArray(one) ? "stack" : "plain", value: one }));
  const names = Object.keys(job.values);
  if (value !== undefined) return [{ key, kind: "plain", alone: true, value }];
  if (names.some((name) => name.startsWith(`${key}.`))) return [{ key, kind: "table", alone: true, value: tableAt(key) }];
  const rows = [];
  for (let at = `${key}[1]`; names.some((name) => name === at || name.startsWith(`${at}.`)); at = `${key}[${rows.length + 1}]`) {
    const one = job.values[at];
    rows.push({ key: at, kind: one === undefined ? "table" : Array.isArray(one) ? "stack" : "plain", value: one ?? tableAt(at) });
  }
  return rows.length || !mayStandAlone ? rows : [{ key, kind: "plain", alone: true }];
}

/** Return what the text says at a key, an entry of a list among them. */
export function valueAt(key) {
  const [, list, number] = /^(.*)\[(\d+)\]$/.exec(key) ?? [];
  return job.values[key] ?? job.values[list]?.[number - 1];
}

const tableAt = (key) =>
  Object.fromEntries(Object.entries(job.values).filter(([name]) => name.startsWith(`${key}.`)).map(([name, value]) => [name.slice(key.length + 1), value]));

let wanted = null;

/** Return what the focus goes to once the form is built anew: the selector of a field or a button. */
export function focusWanted() {
  const found = wanted;
  wanted = null;
  return found;
}

/** Return the rows of a list with their buttons; `field` makes a field, `label` writes a key's name. */
export function listOf({ key, name, says, usual, entry, rows }, { field, label, fieldsOf }) {
  const group = document.createElement("fieldset");
  const legend = document.createElement("legend");
  legend.textContent = label(name);
  const about = document.createElement("small");
  about.textContent = says;
  group.append(legend, about);
  const one = name === "mat" ? "layer" : name.replaceAll("_", " ").replace(/(?<=[^s])s$/, "");
  for (const [at, row] of rows.entries()) group.append(rowOf(row, at));
  group.append(button("Add", `Add: ${one}`, `add ${key}`, add));
  return group;

  function rowOf(row, at) {
    const made = document.createElement("div");
    made.className = "row";
    const title = `${one} ${at + 1}`;
    for (const each of fieldsIn(row)) made.append(field({ ...each, shown: each.key === row.key ? title : `${title}, ${each.name.replaceAll("_", " ")}` }));
    const buttons = document.createElement("span");
    buttons.className = "buttons";
    if (at > 0) buttons.append(button("Up", `Move ${title} up`, `up ${row.key}`, () => swap(at, at - 1, "up")));
    if (at < rows.length - 1) buttons.append(button("Down", `Move ${title} down`, `down ${row.key}`, () => swap(at, at + 1, "down")));
    if (row.value !== undefined || !row.alone) buttons.append(button("Take away", `Take ${title} away`, `away ${row.key}`, () => {
      wanted = `[data-act="add ${CSS.escape(key)}"]`;
      edit([{ key: row.key, value: null }]);
    }));
    made.append(buttons);
    return made;
  }

  function fieldsIn(row) {
    const itself = { key: row.key, name, says: "", usual: row.alone ? usual : undefined, examples: [], choices: entry.plain?.enum };
    if (row.kind === "stack") return [{ ...itself, kind: "list" }];
    if (!entry.of) return [{ ...itself, kind: entry.plain.enum ? "choice" : "text" }];
    return Object.entries(entry.of.properties).flatMap(([inner, part]) => {
      if (inner === "reveal" && row === rows[0]) return [];
      const [found] = fieldsOf(`${row.key}.${inner}`, inner, part, 1);
      if (inner !== entry.short || row.kind !== "plain") return [found];
      return [{ ...found, key: row.key, also: found.key, usual: itself.usual }];
    });
  }

  async function add() {
    await settled();
    const made = fresh();
    const at = rows.length + 1;
    wanted = `[data-key^="${CSS.escape(`${key}[${at}]`)}"]`;
    const seeded = seed();
    edit(rows.some(({ alone }) => !alone) ? [{ key: `${key}[${at}]`, value: made }] : [{ key, value: [...seeded, made] }]);
  }

  /** What stands in the list before its first entry is added: what the job says without it. */
  function seed() {
    if (rows.length) return [rowsOf(key)[0]?.value ?? usual];
    const wall = /^wall\[(\d+)\]\.pieces$/.exec(key);
    return wall ? (job.walls[wall[1] - 1]?.frames ?? []).map(({ piece }) => piece) : [];
  }

  function fresh() {
    const inches = job.plan?.units === "in";
    if (name === "mat") {
      const last = rowsOf(key).at(-1)?.value ?? usual;
      return { board: last.board ?? last, reveal: inches ? "1/4 in" : "6 mm" };
    }
    if (name === "pieces") return job.pieces[0]?.name ?? "";
    if (!entry.of) return entry.plain.enum?.find((choice) => !rows.some(({ value }) => value === choice)) ?? entry.plain.enum?.[0] ?? "";
    const length = inches ? "10 in" : "250 mm";
    const example = (inner) => fieldsOf("", inner, entry.of.properties[inner], 1)[0].examples[0];
    const value = (inner) => (inner === "name" ? `${one} ${rows.length + 1}` : (example(inner) ?? length) === "250 mm" ? length : example(inner));
    return Object.fromEntries((entry.of.required ?? []).map((inner) => [inner, value(inner)]));
  }

  async function swap(from, to, way) {
    await settled();
    wanted = `[data-act="${way} ${CSS.escape(rows[to].key)}"], [data-key^="${CSS.escape(rows[to].key)}"]`;
    const [upper, lower] = [Math.min(from, to), Math.max(from, to)];
    const now = rowsOf(key);
    let [first, second] = [now[lower].value, now[upper].value];
    if (name === "mat" && upper === 0) [first, second] = withoutReveal(first, second);
    edit([{ key: rows[upper].key, value: first }, { key: rows[lower].key, value: second }]);
  }
}

/** The front layer has no reveal: it goes over to the layer that comes behind it. */
function withoutReveal(front, back) {
  const { reveal, ...rest } = typeof front === "string" ? { board: front } : front;
  const behind = typeof back === "string" ? { board: back } : back;
  return [Object.keys(rest).length > 1 ? rest : rest.board, reveal === undefined ? back : { ...behind, reveal }];
}

export function button(text, says, act, does) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.setAttribute("aria-label", says);
  made.dataset.act = act;
  made.addEventListener("click", does);
  return made;
}
