// What is half typed: kept on this phone only, at every change, and there again after a reload that comes at once.
//
// The worker writes a draft to disk, sure and therefore slow; a fast hand types ahead of it. So only the newest text of
// a name waits its turn, and until it is written it also stands in the page's own small memory, which a reload that
// comes before the write does not take away.

import type { Result } from './contract';

type Ask = (name: string, value: unknown) => Promise<unknown>;

interface Write {
  value: unknown;
  more: boolean;
  done: Promise<void>;
}

const waiting = new Map<string, Write>();

const key = (name: string) => `half typed ${name}`;

/** Puts a value aside at once. A browser that has no room or no memory for it only loses what comes before the write. */
function aside(name: string, value: unknown): string {
  const text = JSON.stringify({ value });
  try {
    localStorage.setItem(key(name), text);
  } catch {
    // The worker's write is the one that is relied on.
  }
  return text;
}

function asideOf(name: string): { value: unknown } | undefined {
  try {
    const text = localStorage.getItem(key(name));
    if (text === null) return undefined;
    const read = JSON.parse(text) as { value?: unknown };
    return { value: read.value };
  } catch {
    return undefined;
  }
}

function written(name: string, text: string): void {
  try {
    if (localStorage.getItem(key(name)) === text) localStorage.removeItem(key(name));
  } catch {
    // Nothing was put aside.
  }
}

/** Keeps the newest value of a name; undefined removes it. Done when it, or a newer one, is on disk. */
export function keep(name: string, value: unknown, ask: Ask): Promise<void> {
  aside(name, value);
  const under = waiting.get(name);
  if (under) {
    under.value = value;
    under.more = true;
    return under.done;
  }
  const write: Write = { value, more: true, done: Promise.resolve() };
  waiting.set(name, write);
  write.done = writeOut(name, write, ask);
  return write.done;
}

async function writeOut(name: string, write: Write, ask: Ask): Promise<void> {
  try {
    while (write.more) {
      write.more = false;
      const text = JSON.stringify({ value: write.value });
      const answer = (await ask(name, write.value)) as Result<unknown>;
      if (answer.ok) written(name, text);
    }
  } finally {
    waiting.delete(name);
  }
}

/** What was typed last, wherever it is. */
export async function find<T>(name: string, ask: (name: string) => Promise<Result<unknown>>): Promise<T | undefined> {
  const last = asideOf(name);
  if (last) return last.value as T | undefined;
  const result = await ask(name);
  return result.ok ? (result.value as T | undefined) : undefined;
}
