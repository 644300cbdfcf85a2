// The job's text, in step with everything else: typing changes the job, and every other change shows in the text.

import { change, job, on } from "/static/job.js";

export function textRoom(area) {
  on("text", ({ from }) => {
    if (from === area || area.value === job.text) return;
    const { selectionStart, selectionEnd, scrollTop } = area;
    area.value = job.text;
    area.setSelectionRange(selectionStart, selectionEnd);
    area.scrollTop = scrollTop;
  });
  area.addEventListener("input", () => change(area.value, { joined: "typing", from: area }));
}

/** Put the cursor on a line of the text, and show it. */
export function goToLine(area, line) {
  const lines = area.value.split("\n");
  const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0);
  area.focus();
  area.setSelectionRange(start, start + (lines[line - 1]?.length ?? 0));
  const height = parseFloat(getComputedStyle(area).lineHeight);
  area.scrollTop = Math.max(0, (line - 4) * height);
}
