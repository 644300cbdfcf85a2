// Undo, redo, save, and what happens on the disk: a change in another editor shows at once, a draft outlives the server.

import { get, write } from "/static/api.js";
import { begin, canRedo, canUndo, change, job, on, redo, tell, undo } from "/static/job.js";

const EVERY = 1000; // milliseconds between two looks at the disk
const REST = 800; // milliseconds of rest before a draft is written

job.saved = { there: false, text: "", mark: "" };
let room;

export function diskRoom(parts) {
  room = parts;
  room.undo.addEventListener("click", undo);
  room.redo.addEventListener("click", redo);
  room.save.addEventListener("click", () => save());
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    const act = key === "s" ? save : key === "z" ? (event.shiftKey ? redo : undo) : key === "y" ? redo : null;
    if (!act) return;
    event.preventDefault();
    act();
  });
  on("refused", ({ errors }) => say(errors[0].text));
  on("text", () => {
    room.told.textContent = ""; // it was told of the text before
    show();
    keepDraft();
  });
  window.addEventListener("beforeunload", (event) => {
    if (job.text !== job.saved.text) event.preventDefault();
  });
  setInterval(look, EVERY);
}

/** Begin with what lies on the disk; a draft of an earlier time is offered. */
export async function open() {
  const { status, body } = await get("/api/job");
  if (status !== 200) {
    say(body.errors[0].text);
    return;
  }
  room.name.textContent = body.file.split(/[\\/]/).slice(-2).join("/");
  room.name.title = body.file;
  job.opened = true;
  job.saved = { there: body.there, text: body.text, mark: body.mark };
  begin(body.there ? body.text : body.starter);
  if (!body.there) job.saved.text = body.starter;
  if (body.draft) {
    question("A draft of this job was kept when the page ended last time.", [
      ["Take the draft", () => change(body.draft)],
      ["Leave it", () => write("/api/draft", { text: null })],
    ]);
  }
  show();
}

export async function save() {
  const text = job.text;
  const { status, body } = await write("/api/save", { text, mark: job.saved.mark });
  if (status === 200) {
    job.saved = { there: true, text, mark: body.mark };
    say("Saved.");
  } else if (status === 409) {
    conflict(body);
  } else say(body.errors[0].text);
  show();
}

function conflict({ text, mark }) {
  question("The file has changed on the disk since it was read here.", [
    ["Take the file's text", () => {
      job.saved = { there: true, text, mark };
      change(text);
      show();
    }],
    ["Save mine over it", () => {
      job.saved.mark = mark;
      save();
    }],
  ]);
}

/** Look whether another editor has written the file. */
async function look() {
  if (document.hidden || !room.question.hidden) return;
  const { status, body } = await get(`/api/disk?mark=${job.saved.mark}`);
  room.state.classList.toggle("gone", status === 0);
  if (status === 0) say("The server has stopped. Start it again: what is here is kept.");
  if (status !== 200 || body.text === undefined || body.mark === job.saved.mark || !body.there) return;
  if (job.text === job.saved.text) {
    job.saved = { there: true, text: body.text, mark: body.mark };
    change(body.text);
    say("The file has changed on the disk, and is shown as it is there.");
    show();
  } else conflict(body);
}

let resting = null;

/** Keep a draft beside the job, once the hands rest. */
export function keepDraft() {
  clearTimeout(resting);
  resting = setTimeout(() => {
    if (job.text === job.saved.text) {
      if (job.drafted) write("/api/draft", { text: null });
      job.drafted = false;
    } else {
      write("/api/draft", { text: job.text });
      job.drafted = true;
    }
  }, REST);
}

function show() {
  room.undo.disabled = !canUndo();
  room.redo.disabled = !canRedo();
  room.save.disabled = job.saved.there && job.text === job.saved.text;
  room.state.textContent = job.text === job.saved.text ? "" : "not saved";
}

const say = (text) => {
  room.told.textContent = text;
  tell("said", text);
};

/** Ask a question whose answers are buttons, with a field for a name where `asked` says what for; Escape takes the last one. */
export function question(text, answers, asked = null) {
  const before = document.activeElement;
  const input = document.createElement("input");
  input.setAttribute("aria-label", asked ?? "");
  const words = document.createElement("p");
  words.textContent = text;
  room.question.replaceChildren(
    words,
    ...(asked ? [input] : []),
    ...answers.map(([label, act]) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = label;
      button.addEventListener("click", () => {
        room.question.hidden = true;
        if (before?.isConnected) before.focus({ preventScroll: true });
        act(input.value.trim());
      });
      return button;
    }),
  );
  room.question.hidden = false;
  room.question.onkeydown = ({ key, target }) => {
    if (key === "Escape") room.question.querySelector("button:last-of-type").click();
    if (key === "Enter" && target === input) room.question.querySelector("button").click();
  };
  room.question.querySelector(asked ? "input" : "button").focus();
}
