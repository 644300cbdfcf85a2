// The order in which frames hang: rows, stacks and groups as the text has them, and the places that a frame may take there.
//
// A list of `pieces` is a row, a list within it a stack, one within that a row again. A frame is known by its number in
// hanging order, which is that of the plan's frames.

import { job } from "/static/job.js";

const STACKS = new Set(["centre-line", "flush-top", "flush-base"]);

/** Return the groups of a wall: the key of each one's list, and its frames by their numbers, nested as the text has them;
 * null where the text and the plan do not name the same frames. */
export function groupsOf(at, wall) {
  let number = 0;
  let same = true;
  const numbered = (entry) => {
    if (Array.isArray(entry)) return entry.map(numbered);
    same &&= wall.frames[number]?.piece === entry;
    return number++;
  };
  const keys = job.values[`${at}.group[1].pieces`] ? wall.groups.map((_, group) => `${at}.group[${group + 1}].pieces`) : [`${at}.pieces`];
  const found = keys.map((key, group) => {
    const list = job.values[key] ?? (keys.length === 1 ? wall.frames.map(({ piece }) => piece) : []);
    return { key, ...wall.groups[group], tree: numbered(list) };
  });
  return same && number === wall.frames.length ? found : null;
}

/** Return the places that a frame may take among the others: { group, trail, at, beside, line, says }.
 *
 * `trail` leads to a list, `at` is where in it; with `beside` the frame joins the one that stands there in a list of their
 * own. `line` is where the place is seen on the wall, from end to end. */
export function placesFor(moving, groups, wall) {
  const boxes = wall.frames.map(({ left, bottom, width, height, pinned }, number) => (number === moving || pinned ? null : [left, bottom, width, height]));
  return groups.flatMap((group, number) => {
    if (group.arrange === "placed") return [];
    if (group.arrange === "cluster") return joining(moving, group, number, boxes);
    return within(group.tree, [], { group, number, boxes, wall, gap: group.gap });
  });
}

function joining(moving, group, number, boxes) {
  const box = around(group.tree, boxes);
  if (!box || group.tree.includes(moving)) return [];
  const [left, bottom, wide, high] = box;
  const line = [[left, bottom + high / 2], [left + wide, bottom + high / 2]];
  return [{ group: number, trail: [], at: group.tree.length, beside: null, line, says: "into the cluster" }];
}

function within(list, trail, about) {
  const { group, number, boxes, wall, gap } = about;
  const stack = trail.length % 2 === 1;
  const sides = (box, name, at, beside, upright) => {
    const [left, bottom, wide, high] = box;
    const far = gap / 2;
    const found = upright
      ? [[0, "above", [[left, bottom + high + far], [left + wide, bottom + high + far]]], [1, "below", [[left, bottom - far], [left + wide, bottom - far]]]]
      : [[0, "left of", [[left - far, bottom], [left - far, bottom + high]]], [1, "right of", [[left + wide + far, bottom], [left + wide + far, bottom + high]]]];
    return found.map(([after, word, line]) => ({ group: number, trail, at: beside ? at : at + after, beside: beside ? after : null, line, says: `${word} ${name}` }));
  };
  return list.flatMap((entry, at) => {
    const box = around(entry, boxes);
    if (!box) return [];
    const names = [entry].flat(Infinity).filter((one) => boxes[one]).map((one) => wall.frames[one].piece);
    const found = sides(box, names.length > 1 ? `${names[0]} and its neighbours` : names[0], at, false, stack);
    if (Array.isArray(entry)) found.push(...within(entry, [...trail, at], about));
    else if (STACKS.has(group.arrange)) found.push(...sides(box, names[0], at, true, !stack));
    return found;
  });
}

function around(entry, boxes) {
  const all = [entry].flat(Infinity).map((one) => boxes[one]).filter(Boolean);
  if (!all.length) return null;
  const [left, bottom] = [0, 1].map((axis) => Math.min(...all.map((box) => box[axis])));
  const [right, top] = [0, 1].map((axis) => Math.max(...all.map((box) => box[axis] + box[axis + 2])));
  return [left, bottom, right - left, top - bottom];
}

/** Return the nearest of the places to a point, null where there is none. */
export function nearestPlace(point, places) {
  const far = ({ line: [from, to] }) => Math.hypot(...[0, 1].map((axis) => Math.max(from[axis] - point[axis], 0, point[axis] - to[axis])));
  return places.reduce((best, place) => (!best || far(place) < far(best) ? place : best), null);
}

/** Return the edits that put a frame into a place; a group that it leaves empty goes. */
export function put(moving, { group, trail, at, beside }, groups, wall) {
  const trees = groups.map(({ tree }) => marked(tree, moving, null));
  const list = trail.reduce((one, step) => one[step], trees[group]);
  if (beside === null) list.splice(at, 0, moving);
  else list[at] = beside ? [list[at], moving] : [moving, list[at]];
  return written(trees, groups, wall);
}

/** Return the edits that move a frame one place on in the order, or back: over a neighbour, into a stack, out of it, into
 * the next group. */
export function stepped(moving, by, groups, wall) {
  const said = groups.flatMap(({ tree }, group) => [...(group ? [{ next: true }] : []), ...spelled(tree)]);
  const at = said.indexOf(moving);
  for (let to = at + by; to >= 0 && to < said.length; to += by) {
    [said[to - by], said[to]] = [said[to], said[to - by]];
    const edits = written(read(said), groups, wall);
    if (edits.length) return edits; // past another copy of the same piece nothing changes
  }
  return [];
}

/** Return the edits that put a frame into a list of its own with its neighbour: a stack in a row, a row in a stack. */
export function joined(moving, by, groups, wall) {
  const trees = groups.map(({ tree, arrange }) => (STACKS.has(arrange) ? paired(tree, moving, by) : tree));
  return written(trees, groups, wall);
}

function paired(tree, moving, by) {
  const at = tree.indexOf(moving);
  const other = tree[at + by];
  if (at < 0) return tree.map((entry) => (Array.isArray(entry) ? paired(entry, moving, by) : entry));
  if (other === undefined) return tree;
  const pair = Array.isArray(other) ? (by > 0 ? [moving, ...other] : [...other, moving]) : by > 0 ? [moving, other] : [other, moving];
  return tree.toSpliced(Math.min(at, at + by), 2, pair);
}

const marked = (entry, moving, mark) => (Array.isArray(entry) ? entry.map((one) => marked(one, moving, mark)) : entry === moving ? mark : entry);
const spelled = (tree) => tree.flatMap((entry) => (Array.isArray(entry) ? ["(", ...spelled(entry), ")"] : [entry]));

function read(said) {
  const trees = [[]];
  let open = [trees[0]];
  for (const one of said) {
    if (one?.next) {
      trees.push([]);
      open = [trees.at(-1)];
    } else if (one === "(") {
      open.at(-1).push([]);
      open.push(open.at(-1).at(-1));
    } else if (one === ")") open.pop();
    else open.at(-1).push(one);
  }
  return trees;
}

/** Leave out marks and empty lists; a list of one is that one, a list of one list what is in it. */
function tidy(list) {
  const entries = list.filter((one) => one !== null).map((one) => (Array.isArray(one) ? tidy(one) : one));
  return entries.flatMap((one) => (!Array.isArray(one) ? [one] : one.length === 1 ? (Array.isArray(one[0]) ? one[0] : one) : one.length ? [one] : []));
}

function written(trees, groups, wall) {
  const named = (entry) => (Array.isArray(entry) ? entry.map(named) : wall.frames[entry].piece);
  const lists = groups.map(({ key, tree }, number) => ({ key, before: named(tree), now: named(tidy(trees[number])) }));
  const changed = lists.filter(({ before, now }) => now.length && JSON.stringify(before) !== JSON.stringify(now));
  const empty = lists.filter(({ now }) => !now.length).reverse(); // from the last: the numbers of those before stay
  return [...changed.map(({ key, now }) => ({ key, value: now })), ...empty.map(({ key }) => ({ key: key.replace(/\.pieces$/, ""), value: null }))];
}
