// What the page asks of the program. Everything that is worked out is worked out there.
import { spoken, tr } from "./words.js";

const KEY = "kilnstow-token";

// The address handed out by `kilnstow serve` ends in the token; a tab keeps it over a reload.
function find_token() {
  const given = location.hash.slice(1);
  if (/^[0-9a-f]{32,}$/.test(given)) {
    sessionStorage.setItem(KEY, given);
    history.replaceState(null, "", location.pathname);
  }
  return sessionStorage.getItem(KEY) || "";
}

const token = find_token();
let told = () => {};

// Who is told that the program cannot be reached (words), and that it can again (null).
export function on_reach(listen) {
  told = listen;
}

export class Refused extends Error {
  constructor(status, words, tag) {
    super(words);
    this.status = status;
    this.tag = tag;
  }
}

function reason(status) {
  if (status === 403) return tr("This page has lost its key. Open the address that “kilnstow serve” printed.");
  if (status === 412) return tr("This file was changed elsewhere in the meantime.");
  if (status === 413) return tr("This is more than the program takes in one piece (8 MiB).");
  if (status === 415) return tr("Files of this kind are not kept here: orders, tables, notes and photographs are.");
  if (status === 503) return tr("The program has too much to do just now. Try again in a moment.");
  if (status === 504) return tr("This took too long and was given up.");
  return tr("The program refused this (%s).", status);
}

// A command says itself what is wrong, in the reader's language; the server's own refusals are for programs, in English.
function words_of(status, { command, errors }) {
  if (!errors) return reason(status);
  if (command !== "serve") return errors.join("\n");
  return spoken() === "en" || status === 400 ? [reason(status), ...errors].join("\n") : reason(status);
}

async function call(method, path, body, headers = {}) {
  let answer;
  try {
    answer = await fetch(path, { method, body, headers: { "Kilnstow-Token": token, ...headers }, cache: "no-store" });
  } catch (lost) {
    const words = tr(
      "kilnstow has stopped. What you did is safe in the folder's files. Start it again and open the address that it prints.",
    );
    told(words);
    throw new Refused(0, words);
  }
  told(answer.status === 403 ? reason(403) : null);
  if (answer.ok) return answer;
  const told_by = await answer.json().catch(() => ({}));
  throw new Refused(answer.status, words_of(answer.status, told_by), answer.headers.get("ETag"));
}

function send(path, what) {
  return call("POST", path, JSON.stringify(what), { "Content-Type": "application/json" });
}

export async function list_files() {
  return (await (await call("GET", "/api/files")).json()).files;
}

export async function get_file(name) {
  const answer = await call("GET", `/api/files/${encodeURIComponent(name)}`);
  return { text: await answer.text(), tag: answer.headers.get("ETag") };
}

export async function get_bytes(name) {
  return (await call("GET", `/api/files/${encodeURIComponent(name)}`)).blob();
}

// Writes a file if it is still the one that was read (tag), or if there is none yet (tag null).
export async function put_file(name, text, tag) {
  const only = tag ? { "If-Match": tag } : { "If-None-Match": "*" };
  const answer = await call("PUT", `/api/files/${encodeURIComponent(name)}`, text, only);
  return answer.headers.get("ETag");
}

// A command's own envelope, as on the command line with --json. With `files` in place of the folder's it is a try: nothing stays.
export async function ask(command, args, files) {
  return (await send(`/api/${command}`, { args, files, language: spoken() })).json();
}

// The bytes of a file that a command makes; nothing is left in the folder.
export async function make_file(command, args, give, files) {
  return (await send(`/api/${command}`, { args, files, give, language: spoken() })).blob();
}

export async function drag(what) {
  return (await send("/api/drag", what)).json();
}

// Plans while `show` is told how it goes and of each better plan; answers with the command's envelope.
export async function run_job(what, show) {
  const { job } = await (await send("/api/jobs", { ...what, language: spoken() })).json();
  show({ job });
  for (let seen = 0; ;) {
    const now = await (await call("GET", `/api/jobs/${job}?after=${seen}`)).json();
    seen = now.k;
    show(now);
    if (now.state === "ended") return now;
  }
}

// Ends a job early; the best found so far is kept.
export function end_job(job) {
  return call("DELETE", `/api/jobs/${job}`);
}

// Hands bytes to the person as a file.
export function hand_over(blob, name) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}
