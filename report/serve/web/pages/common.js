// What the pages share: asking the server, and making elements.

const token = document.querySelector("meta[name=token]")?.content ?? "";

// Refused says that the server was reached and did not do it. Everything else that ask throws means it could not be reached.
export class Refused extends Error {
  constructor(status, words, body) {
    super(words);
    this.status = status;
    this.body = body;
  }
}

// ask sends a request and returns what is answered. It gives up after a while, as a bad connection never says no.
export async function ask(method, path, body, seconds = 40) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), seconds * 1000);
  try {
    const plain = body instanceof Blob || body === undefined;
    const got = await fetch(path, {
      method, signal: stop.signal, cache: "no-store", headers: { "X-Token": token },
      body: plain ? body : JSON.stringify(body),
    });
    const text = await got.text();
    let answer = null;
    try {
      answer = JSON.parse(text);
    } catch {
      throw new Error("the connection broke off");
    }
    if (!got.ok) {
      throw new Refused(got.status, answer.problem ?? "the server refused it", answer);
    }
    return answer;
  } finally {
    clearTimeout(timer);
  }
}

// ended reports whether a refusal means that the server no longer knows this page; what waits is kept and sent by the page when it is loaded again.
export const ended = (status) => status === 401 || status === 403;

// el makes an element: el("p", {class: "quiet"}, "words", other). What is null or false is left out.
export function el(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) {
      e.addEventListener(key.slice(2), value);
    } else if (value === true) {
      e.setAttribute(key, "");
    } else if (value !== false && value !== null && value !== undefined) {
      e.setAttribute(key, value);
    }
  }
  e.append(...children.flat().filter((c) => c !== null && c !== undefined && c !== false));
  return e;
}

// fill puts children in place of what is in an element. What is null, false or undefined is left out.
export const fill = (e, ...children) => e.replaceChildren(...children.flat().filter((c) => c !== null && c !== false && c !== undefined));

export const byID = (id) => document.getElementById(id);

// ml writes millilitres as the feeding sheet does.
export const ml = (v) => `${Number(v.toFixed(2))} mL`;

export const capital = (s) => s.charAt(0).toUpperCase() + s.slice(1);

// sentence turns a message of the server's into one. A file's name at its beginning stays as it is.
export const sentence = (s) => (s === "" ? "" : `${/^[\w-]+\.(yaml|csv|jsonl|json):/.test(s) ? s : capital(s)}${/[.!?]$/.test(s) ? "" : "."}`);

export const counted = (n, one, many = `${one}s`) => (n === 1 ? `1 ${one}` : `${n} ${many}`);

export const pause = (ms) => new Promise((done) => setTimeout(done, ms));

// verdicts are the measure command's words, with a mark that does not need colour.
export const verdicts = {
  good: { mark: "✓", short: "good", tone: "good" },
  doubt: { mark: "!", short: "usable", tone: "doubt" },
  retake: { mark: "↻", short: "retake", tone: "retake" },
  "not usable": { mark: "↻", short: "not usable", tone: "retake" },
  excluded: { mark: "–", short: "left out", tone: "out" },
};

// marks stand before what is said large; marksInList before one of many.
export const marks = { good: "✓", doubt: "✓", retake: "↻", out: "–", ask: "!", gone: "!", away: "" };
export const marksInList = { ...marks, doubt: "!", ask: "?" };

export const views = { roots: "Roots", shoots: "Leaves" };
