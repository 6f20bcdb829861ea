// "Copy everything": the folder's files in one dated tar file (POSIX ustar), which every system can open.
import { get_bytes, hand_over } from "./server.js";
import { changed, notify, studio } from "./studio.js";
import { tr } from "./words.js";

const BLOCK = 512;

function field(header, at, size, text) {
  header.set(new TextEncoder().encode(text).slice(0, size), at);
}

function octal(number, digits) {
  return number.toString(8).padStart(digits, "0");
}

// Name, mode, owners, size, time, checksum, type, magic: as POSIX.1-1988 has them (from memory).
function header_of(name, size, seconds) {
  const header = new Uint8Array(BLOCK);
  field(header, 0, 100, name);
  field(header, 100, 8, "0000644\0");
  field(header, 108, 8, "0000000\0");
  field(header, 116, 8, "0000000\0");
  field(header, 124, 12, octal(size, 11) + "\0");
  field(header, 136, 12, octal(seconds, 11) + "\0");
  field(header, 148, 8, "        ");
  field(header, 156, 1, "0");
  field(header, 257, 8, "ustar\x0000");
  field(
    header,
    148,
    8,
    octal(
      header.reduce((sum, byte) => sum + byte, 0),
      6,
    ) + "\0 ",
  );
  return header;
}

const KEY = "kilnstow-copied";
const NAME_MOST = 100;

// The day of the last copy that was made in this browser.
export function copied_on() {
  return localStorage.getItem(KEY);
}

export async function copy_everything() {
  const long = studio.files.find((file) => new TextEncoder().encode(file.name).length > NAME_MOST);
  if (long) return notify(tr("“%s” has a name of more than 100 bytes, too long for such a copy: make it shorter.", long.name));
  const now = new Date();
  const blocks = [];
  for (const file of studio.files) {
    const bytes = new Uint8Array(await (await get_bytes(file.name)).arrayBuffer());
    blocks.push(
      header_of(file.name, bytes.length, Math.floor(now.getTime() / 1000)),
      bytes,
      new Uint8Array((BLOCK - (bytes.length % BLOCK)) % BLOCK),
    );
  }
  blocks.push(new Uint8Array(2 * BLOCK));
  hand_over(new Blob(blocks, { type: "application/x-tar" }), `kilnstow-${now.toISOString().slice(0, 10)}.tar`);
  localStorage.setItem(KEY, now.toISOString().slice(0, 10));
  return changed();
}
