// The engine's one door, framed. The bytes are described in pwa/engine/door/frame.go.

import 'go:wasm_exec';
import type { Refusal, Result } from './contract';

export const Op = {
  start: 1,
  load: 2,
  loaded: 3,
  command: 4,
  committed: 5,
  aborted: 6,
  connect: 7,
  receive: 8,
  stored: 9,
  tick: 10,
  closed: 11,
  view: 12,
  calc: 13,
  state: 14,
  fetched: 15,
  snapshot: 16,
} as const;

export type OpCode = (typeof Op)[keyof typeof Op];

interface Door {
  call(request: Uint8Array): Uint8Array;
}

declare global {
  // Set by the engine when it is up.
  var stillroom: Door | undefined;
}

const HEAD = 1 + 8 + 2 + 32 + 4;
const encoder = new TextEncoder();
const decoder = new TextDecoder();

export interface Answer {
  ok: boolean;
  /** JSON as the engine wrote it, for comparing without parsing */
  text: string;
  raw: Uint8Array;
}

/** The engine could not be had; says so in a sentence for people. */
export class NoEngine extends Error {}

let door: Door | undefined;
let dead = false;

/** Compiles and starts the engine; rejects with the reason when it cannot. */
export async function startEngine(): Promise<void> {
  if (door) return;
  const go = new Go();
  const response = await fetch(__ENGINE_URL__).catch(() => undefined);
  if (!response?.ok) throw new NoEngine('A part of Stillroom could not be loaded, and the home store does not answer. What was kept is kept. Start the home store and this page goes on by itself.');
  const { instance } = await WebAssembly.instantiateStreaming(response, go.importObject);
  void go.run(instance);
  // The engine sets its door before its main blocks; one turn of the loop is enough, some browsers want two.
  for (let turn = 0; turn < 200 && !globalThis.stillroom; turn++) {
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  if (!globalThis.stillroom) throw new NoEngine('A part of Stillroom did not start. What was kept is kept. Load the page again.');
  door = globalThis.stillroom;
}

/** One call through the door. Clock, zone and random bytes go in with every call, so that the engine needs none. */
export function call(op: OpCode, head: unknown, raw: Uint8Array = new Uint8Array()): Answer {
  if (!door || dead) return { ok: false, text: JSON.stringify(dead ? ended : notUp), raw: new Uint8Array() };
  const json = encoder.encode(JSON.stringify(head ?? {}));
  const request = new Uint8Array(HEAD + json.length + raw.length);
  const view = new DataView(request.buffer);
  const now = Date.now();
  view.setUint8(0, op);
  view.setBigInt64(1, BigInt(now), true);
  view.setInt16(9, -new Date(now).getTimezoneOffset(), true);
  crypto.getRandomValues(request.subarray(11, 43));
  view.setUint32(43, json.length, true);
  request.set(json, HEAD);
  request.set(raw, HEAD + json.length);

  let answer: Uint8Array;
  try {
    answer = door.call(request);
  } catch {
    // Only a fault that Go itself cannot recover from comes here, such as memory that ran out.
    dead = true;
    return { ok: false, text: JSON.stringify(ended), raw: new Uint8Array() };
  }
  const length = new DataView(answer.buffer, answer.byteOffset).getUint32(1, true);
  return { ok: answer[0] === 1, text: decoder.decode(answer.subarray(5, 5 + length)), raw: answer.subarray(5 + length) };
}

const notUp: Refusal = { code: 'starting', says: 'Stillroom is still starting.', hint: 'Nothing was kept. Try again in a moment.', field: '' };

const ended: Refusal = { code: 'ended', says: 'The part of Stillroom that reckons has stopped. This was not kept; everything kept before still is.', hint: 'Load the page again.', field: '' };

export function asResult(answer: Answer): Result<unknown> {
  const value: unknown = JSON.parse(answer.text);
  return answer.ok ? { ok: true, value } : { ok: false, error: value as Refusal };
}

/** A list of byte strings, each after its length as 4 bytes, little end first. */
export function split(raw: Uint8Array): Uint8Array[] {
  const items: Uint8Array[] = [];
  const view = new DataView(raw.buffer, raw.byteOffset, raw.byteLength);
  for (let at = 0; at < raw.length; ) {
    const length = view.getUint32(at, true);
    items.push(raw.slice(at + 4, at + 4 + length));
    at += 4 + length;
  }
  return items;
}

export function join(items: readonly Uint8Array[]): Uint8Array {
  const joined = new Uint8Array(items.reduce((sum, item) => sum + 4 + item.length, 0));
  const view = new DataView(joined.buffer);
  let at = 0;
  for (const item of items) {
    view.setUint32(at, item.length, true);
    joined.set(item, at + 4);
    at += 4 + item.length;
  }
  return joined;
}
