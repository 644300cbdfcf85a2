// The pack, whole or a document at a time, and a table that says in words what the drawing shows.

import { get } from "/static/api.js";
import { job, on } from "/static/job.js";

export function filesRoom({ pack, progress, list, table }) {
  on("answer", () => {
    pack.hidden = !job.pieces.length; // there is nothing to take yet
    pack.href = `/api/pack?revision=${job.revision}`;
    const sums = job.sums[job.chosen.piece] ?? [];
    fill(sums);
  });
  on("chosen", () => fill(job.sums[job.chosen.piece] ?? []));
  on("sheets", () => {
    list.replaceChildren(
      ...(job.files ?? []).map(({ file, title, about }) => {
        const item = document.createElement("li");
        const link = document.createElement("a");
        link.href = `/api/document?revision=${job.revision}&file=${encodeURIComponent(file)}`;
        link.target = "_blank";
        link.dataset.role = "document";
        link.dataset.file = file;
        link.textContent = about ? `${about}: ${title} (${file.split(".").at(-1)})` : `${title} (${file.split(".").at(-1)})`;
        item.append(link);
        return item;
      }),
    );
  });

  function fill(sums) {
    const mark = JSON.stringify(sums);
    if (table.dataset.mark === mark) return;
    table.dataset.mark = mark;
    table.replaceChildren(
      ...sums.map(({ what, of, text }) => {
        const row = document.createElement("tr");
        const head = document.createElement("th");
        head.scope = "row";
        head.textContent = of ? `${of}: ${what}` : what;
        const cell = document.createElement("td");
        cell.textContent = text.slice(text.indexOf(what) + what.length + 1);
        row.append(head, cell);
        return row;
      }),
    );
  }

  pack.addEventListener("click", () => {
    progress.hidden = false;
    const look = setInterval(async () => {
      const { body } = await get("/api/progress");
      progress.max = body.total || 1;
      progress.value = body.done;
      if (body.total && body.done >= body.total) {
        clearInterval(look);
        progress.hidden = true;
      }
    }, 200);
  });
}
