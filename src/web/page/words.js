// The page's words: English in the code, another language from the program's own catalogue.

let said = {};
let language = "en";

// "%s of %s pieces" with what stands for each %s.
export function tr(text, ...given) {
  let next = 0;
  return (said[text] || text).replace(/%s/g, () => String(given[next++]));
}

// One and many are told apart by whole sentences, each with %s for the number.
export function tr_count(number, one, many) {
  return tr(number === 1 ? one : many, number);
}

export function spoken() {
  return language;
}

export async function learn_words(kept) {
  language = (kept || navigator.language || "en").slice(0, 2) === "de" ? "de" : "en";
  document.documentElement.lang = language;
  if (language === "en") return;
  said = (await import("./german.js")).said;
}
