// All that is kept on this phone as lines of JSON, as server/rescue reads it back.

export interface Rows {
  keys: IDBValidKey[];
  values: unknown[];
}

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

function plain(_: string, value: unknown): unknown {
  if (value instanceof Uint8Array) return base64(value);
  if (value instanceof ArrayBuffer) return base64(new Uint8Array(value));
  return value;
}

/** What a home store keeps of a token: it knows the phone by it again, and nobody becomes this phone with it. */
async function proofOf(token: string | undefined): Promise<string | undefined> {
  if (!token || !globalThis.crypto?.subtle) return undefined;
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(token)));
  return [...sum].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The lines, one a row. What tells who this phone is goes without its secret: whoever has the file must not become this phone. */
export async function rescueLines(of: ReadonlyMap<string, Rows>): Promise<string[]> {
  const rows: string[] = [];
  let device = '';
  for (const [kept, { keys, values }] of of) {
    for (const [i, key] of keys.entries()) {
      let value = values[i];
      if (kept === 'meta' && (key === 'device' || key === 'next')) {
        const { device: id, letter, role, token } = value as Record<string, string>;
        if (key === 'device') device = id ?? '';
        value = { device: id, letter, role, proof: await proofOf(token) };
      }
      if (kept === 'aside' && (value as { token?: string }).token) value = { ...(value as object), token: undefined };
      rows.push(JSON.stringify({ kept, key, value }, plain));
    }
  }
  return [JSON.stringify({ stillroom: 'rescue 1', device, saved: new Date().toISOString() }), ...rows];
}
