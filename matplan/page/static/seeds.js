// What a new entry of a list begins with, and what else changes with it, so that the job stays sound: edits of the text.

import { job } from "/static/job.js";
import { namesOfList, rowsOf, tableAt, valueAt } from "/static/values.js";

const inches = () => job.plan?.units === "in";
const ownerOf = (key) => key.slice(0, key.lastIndexOf("."));
const wallOf = (key) => job.walls[/^wall\[(\d+)\]/.exec(key)?.[1] - 1];
const hungOn = (key) => (wallOf(key)?.frames ?? []).map(({ piece }) => piece);
/** Width and height of a wall, as lengths of the job. */
const sizeOf = (key) => String(job.values[`${/^wall\[\d+\]/.exec(key)[0]}.size`] ?? "").split(/\s*[x×]\s*/);

/** Return { at, edits } that add an entry to a list: where it stands, and what is written. */
export function added(list, singular) {
  const { key, name } = list;
  const rows = rowsOf(key);
  const special = { aperture: window_, group, rows: row, floor: point, outline: point, points: corner }[name];
  if (special) return special(key, rows);
  const at = `${key}[${rows.length + 1}]`;
  const made = fresh(list, rows, singular);
  if (rows.some(({ alone }) => !alone)) return { at, edits: [{ key: at, value: made }] };
  const first = seed(list, rows);
  return { at: `${key}[${first.length + 1}]`, edits: [{ key, value: [...first, made] }] };
}

/** What stands in a list before its first entry is added: what the job says without it. */
function seed({ key, name, usual, rows }, written) {
  if (written.length || rows.length) return [written[0]?.value ?? usual];
  return name === "pieces" ? hungOn(key) : [];
}

function fresh({ key, name, usual, entry }, rows, singular) {
  if (name === "mat") {
    const last = rows.at(-1)?.value ?? usual;
    return { board: last.board ?? last, reveal: inches() ? "1/4 in" : "6 mm" };
  }
  const pieces = namesOfList("piece");
  if (entry.list?.maxItems) return Array.from({ length: entry.list.maxItems }, (_, at) => (entry.list.items["x-names"] ? pieces[at % pieces.length] ?? "" : 0));
  if (name === "pieces") return pieces.find((each) => !rows.some(({ value }) => [value].flat(9).includes(each))) ?? pieces[0] ?? "";
  if (!entry.of) return entry.plain.enum?.find((choice) => !rows.some(({ value }) => value === choice)) ?? entry.plain.enum?.[0] ?? "";
  const value = (inner) => {
    const example = entry.of.properties[inner].examples?.[0] ?? entry.of.properties[inner].anyOf?.[0]?.examples?.[0];
    return inner === "name" ? freeName(namesOfList(key), singular) : (example ?? "250 mm") === "250 mm" ? (inches() ? "10 in" : "250 mm") : example;
  };
  return Object.fromEntries((entry.of.required ?? []).map((inner) => [inner, value(inner)]));
}

export function freeName(names, stem) {
  let number = names.length + 1;
  while (names.includes(`${stem} ${number}`)) number += 1;
  return `${stem} ${number}`;
}

/** A window more: the first one takes over what the piece itself cannot say any more; rows get it at their end. */
function window_(key, rows) {
  const piece = ownerOf(key);
  const own = { name: freeName(namesOfList(key), "window") };
  const taken = rows.length ? [] : ["photo", "aspect"].filter((each) => job.values[`${piece}.${each}`] !== undefined);
  for (const each of taken) own[each] = job.values[`${piece}.${each}`];
  const last = rows.at(-1);
  if (last) for (const each of ["photo", "aspect"]) if (last.value[each] !== undefined) own[each] = last.value[each];
  const at = `${key}[${rows.length + 1}]`;
  const lines = rowsOf(`${piece}.rows`);
  const edits = [...taken.map((each) => ({ key: `${piece}.${each}`, value: null })), { key: at, value: own }];
  if (lines.length) edits.push({ key: `${lines.at(-1).key}[${(lines.at(-1).value ?? []).length + 1}]`, value: own.name });
  return { at, edits };
}

/** A row more: the last window of the row before it goes there. */
function row(key, rows) {
  const names = rows.length ? rows.at(-1).value : namesOfList(`${ownerOf(key)}.aperture`);
  const at = `${key}[${rows.length + 1}]`;
  if (!rows.length) return { at: `${key}[2]`, edits: [{ key, value: names.length > 1 ? [names.slice(0, -1), names.slice(-1)] : [names] }] };
  const leaving = names.length > 1 ? [{ key: `${rows.at(-1).key}[${names.length}]`, value: null }] : [];
  return { at, edits: [...leaving, { key: at, value: names.slice(-1) }] };
}

/** A group more: the first one takes the wall's pieces, a further one the last piece of a group that has several. */
function group(key, rows) {
  const wall = ownerOf(key);
  const at = `${key}[${rows.length + 1}]`;
  if (!rows.length) return { at, edits: [{ key: `${wall}.pieces`, value: null }, { key: at, value: { pieces: valueAt(`${wall}.pieces`) ?? hungOn(key) } }] };
  const full = rows.map((each) => [`${each.key}.pieces`, valueAt(`${each.key}.pieces`)]).findLast(([, names]) => names?.length > 1);
  if (!full) return { at, edits: [{ key: at, value: { pieces: [namesOfList("piece")[0] ?? ""] } }] };
  return { at, edits: [{ key: `${full[0]}[${full[1].length}]`, value: null }, { key: at, value: { pieces: full[1].slice(-1) } }] };
}

/** A point more of a line from the wall's left edge to its right one: in the middle of its last stretch. */
function point(key, rows) {
  const [wide, high] = sizeOf(key).map((side) => side.trim());
  if (rows.length < 2) {
    const unit = /[a-z"]+$/i.exec(high ?? "")?.[0] ?? "";
    const width = wide && unit && !/[a-z"]$/i.test(wide) ? `${wide} ${unit}` : wide;
    const height = key.endsWith("outline") ? high : 0;
    return { at: `${key}[1]`, edits: [{ key, value: [[0, height], [width, height]] }] };
  }
  const at = `${key}[${rows.length}]`;
  const [one, two] = rows.slice(-2).map(({ value }) => value);
  return { at, edits: [{ key: at, value: [between(one[0], two[0]), two[1]], insert: true }] };
}

/** The middle of two lengths of one unit, written in it; the first where they have several. */
function between(one, two) {
  const [first, second] = [one, two].map((text) => /^\s*([\d.]+)\s*([a-z"]*)\s*$/i.exec(String(text)));
  if (!first || !second || (first[2] && second[2] && first[2] !== second[2])) return one;
  const unit = second[2] || first[2];
  const middle = Number(((Number(first[1]) + Number(second[1])) / 2).toFixed(1));
  return unit ? `${middle} ${unit}` : middle;
}

/** A corner more of a polygon, in the middle of its last side; the first three make a triangle. */
function corner(key, rows) {
  if (rows.length < 3) return { at: `${key}[1]`, edits: [{ key, value: [[0.5, 0], [1, 1], [0, 1]] }] };
  const [one, two] = [rows.at(-1).value, rows[0].value].map((each) => each.map(Number));
  const at = `${key}[${rows.length + 1}]`;
  return { at, edits: [{ key: at, value: one.map((each, axis) => (each + two[axis]) / 2) }] };
}

/** Lists that say something of their own when they are empty: no mat at all, nothing hung. */
const EMPTY = new Set(["mat", "pieces"]);

/** Return the edits that take an entry away; a list within a list goes with its last entry, a window leaves its row. */
export function takenAway({ key, name }, row) {
  const rows = rowsOf(key);
  const within = /\]$/.test(key);
  if (within && rows.length === 2 && name === "pieces") return [{ key, value: rows.find((each) => each.key !== row.key).value }];
  if (rows.length === 1 && (within || !EMPTY.has(name))) return [{ key, value: null }];
  const edits = [{ key: row.key, value: null }];
  if (name === "aperture") {
    const lines = rowsOf(`${ownerOf(key)}.rows`);
    for (const each of lines.toReversed()) {
      const at = (each.value ?? []).indexOf(tableAt(row.key).name);
      if (at >= 0) edits.push({ key: each.value.length > 1 ? `${each.key}[${at + 1}]` : each.key, value: null });
    }
  }
  return edits;
}

/** Return the edits that put a piece and what stands below it into one stack; `null` where nothing does. */
export function stacked({ key }, at) {
  const [one, two] = rowsOf(key).slice(at, at + 2).map(({ value }) => value);
  if (two === undefined) return null;
  return [{ key: `${key}[${at + 1}]`, value: [one, ...[two].flat()] }, { key: `${key}[${at + 2}]`, value: null }];
}

/** Return the edits that put the entries of a list within a list in its place. */
export function unstacked({ key }, at) {
  const [first, ...others] = rowsOf(key)[at].value;
  return [
    { key: `${key}[${at + 1}]`, value: first },
    ...others.map((value, number) => ({ key: `${key}[${at + number + 2}]`, value, insert: true })),
  ];
}

/** Return the edits that move an entry to the end or the start of the neighbouring list within the same list. */
export function movedAcross({ key }, from, way) {
  const [, outer, number] = /^(.*)\[(\d+)\]$/.exec(key);
  const to = `${outer}[${Number(number) + way}]`;
  const there = valueAt(to);
  const own = valueAt(key);
  if (!Array.isArray(there)) return null;
  const at = way < 0 ? `${to}[${there.length + 1}]` : `${to}[1]`;
  return [
    { key: at, value: own[from], insert: way > 0 },
    { key: own.length > 1 ? `${key}[${from + 1}]` : key, value: null },
  ];
}
