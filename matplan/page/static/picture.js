// The drawings of the pack, sharp at any size: on tabs, with the sum of each number, and edges that can be pulled.

import { drawn } from "/static/drawing.js";
import { edgesOf, pulled } from "/static/edges.js";
import { choose, edit, job, on, rest } from "/static/job.js";
import { sumAt, termBoxes } from "/static/sums.js";

export function pictureRoom({ figure, pieces, drawings, sum, zoom }) {
  on("answer", show);
  on("chosen", show);
  on("sheets", show);

  function show() {
    const { piece } = job.chosen;
    tabsOf(pieces, job.pieces.map(({ file, name }) => ({ id: file, text: name })), piece, (file) =>
      choose({ piece: file, document: null }));
    const own = Object.entries(job.documents[piece] ?? {}).filter(([name]) => !name.startsWith("front/"));
    tabsOf(
      drawings,
      [
        { id: `front/${piece}.svg`, text: "as framed", file: `front/${piece}.svg` },
        ...own.map(([file, text]) => ({ id: file, text, file })),
        ...job.sheets.map(({ file, title, about }) => ({ id: file, text: `${about}: ${title}`, file })),
      ],
      job.chosen.document ?? `front/${piece}.svg`,
      (name) => choose({ document: name.startsWith("front/") ? null : name }),
    );
    const front = job.pictures.get(`front/${piece}.svg`);
    if (front) put(figure.front, `${piece} ${front.revision}`, front.svg);
    const other = job.chosen.document && job.pictures.get(job.chosen.document);
    figure.other.hidden = !job.chosen.document;
    figure.front.classList.toggle("aside", Boolean(job.chosen.document));
    if (other) put(figure.other, `${job.chosen.document} ${other.revision}`, other.svg);
    if (job.sound) figure.front.dataset.revision = String(job.revision);
  }

  /** Put a drawing into its place, unless it is there; an edge that is being pulled stays under the hand. */
  function put(place, mark, svg) {
    if (place.dataset.drawing === mark) return;
    const made = drawn(svg);
    place.replaceChildren(made);
    place.dataset.drawing = mark;
    if (place === figure.front) handles(made);
  }

  // --- sums

  for (const place of [figure.front, figure.other]) {
    place.addEventListener("pointerover", (event) => point(event.target));
    place.addEventListener("focusin", (event) => point(event.target));
    place.addEventListener("click", (event) => point(event.target));
  }

  function point(target) {
    const number = target.closest?.(".dimension");
    for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
    const found = number && sumAt(number, job.sums[job.chosen.piece] ?? []);
    sum.textContent = found ? found.text : sum.dataset.idle;
    if (!found) return;
    number.classList.add("lit");
    for (const part of termBoxes(number.ownerSVGElement, found)) part.classList.add("lit");
  }

  // --- edges

  function handles(svg) {
    const edges = edgesOf(svg);
    if (edges.length) svg.setAttribute("role", "group");
    for (const edge of edges) {
      svg.append(edge.line);
      edge.line.addEventListener("pointerdown", (event) => pull(event, edge));
      edge.line.addEventListener("keydown", (event) => {
        const way = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] }[event.key];
        const steps = way && way[edge.axis];
        if (!steps) return;
        event.preventDefault();
        settle(edge, steps * job.plan.step * (event.shiftKey ? 10 : 1)).then(rest);
      });
    }
    const again = held && svg.querySelector(`[data-role=handle][data-key="${CSS.escape(held.key)}"][data-side="${held.side}"]`);
    if (again && document.activeElement === document.body) again.focus({ preventScroll: true });
  }

  let held = null;
  figure.front.addEventListener("focusin", (event) => {
    if (event.target.dataset?.role === "handle") held = { key: event.target.dataset.key, side: event.target.dataset.side };
  });

  function pull(event, edge) {
    if (event.button) return;
    event.preventDefault();
    const svg = edge.line.ownerSVGElement;
    const perMm = svg.getScreenCTM().a * edge.paperPerMm;
    const from = [event.clientX, event.clientY][edge.axis];
    const ghost = edge.line.cloneNode();
    ghost.removeAttribute("data-role");
    ghost.classList.add("ghost");
    figure.front.append(overlay(svg, ghost));
    const move = (moving) => {
      const by = ([moving.clientX, moving.clientY][edge.axis] - from) / perMm;
      const paper = by * edge.paperPerMm;
      ghost.setAttribute("transform", edge.axis ? `translate(0 ${paper})` : `translate(${paper} 0)`);
      settle(edge, by);
    };
    const end = () => {
      window.removeEventListener("pointermove", move);
      window.removeEventListener("pointerup", end);
      window.removeEventListener("pointercancel", end);
      figure.front.querySelector(".overlay")?.remove();
      Promise.resolve(settling).then(rest);
    };
    window.addEventListener("pointermove", move);
    window.addEventListener("pointerup", end);
    window.addEventListener("pointercancel", end);
  }

  let next = null;
  let settling = null;

  /** Move the key behind an edge by so many millimetres of the edge, in whole steps; of many moves the newest counts. */
  function settle(edge, by) {
    const value = pulled(edge, by, job.plan.step, job.plan.units);
    if (value !== null) next = { key: edge.key, value };
    settling ??= (async () => {
      while (next) {
        const one = next;
        next = null;
        if (job.values[one.key] !== one.value) await edit([one], { joined: `pull ${one.key}` });
      }
      settling = null;
    })();
    return settling;
  }

  zoom.addEventListener("input", () => {
    zoom.closest("section").style.setProperty("--zoom", zoom.value);
  });
}

/** A drawing over a drawing, for what follows the pointer. */
function overlay(svg, part) {
  const over = svg.cloneNode(false);
  over.classList.add("overlay");
  over.removeAttribute("aria-label");
  over.append(part);
  return over;
}

/** Fill a row of tabs; the arrow keys move along it. */
export function tabsOf(row, entries, chosen, pick) {
  const mark = JSON.stringify([entries, chosen]);
  if (row.dataset.mark === mark) return;
  row.dataset.mark = mark;
  const focused = row.contains(document.activeElement);
  row.replaceChildren(
    ...entries.map(({ id, text, file }) => {
      const tab = document.createElement("button");
      tab.type = "button";
      tab.role = "tab";
      tab.textContent = text;
      tab.ariaSelected = String(id === chosen);
      tab.tabIndex = id === chosen ? 0 : -1;
      if (file) {
        tab.dataset.role = "document";
        tab.dataset.file = file;
      }
      tab.addEventListener("click", () => pick(id));
      tab.addEventListener("keydown", (event) => {
        const next = { ArrowRight: tab.nextElementSibling, ArrowLeft: tab.previousElementSibling }[event.key];
        next?.click();
      });
      return tab;
    }),
  );
  if (focused) row.querySelector("[aria-selected=true]")?.focus();
}
