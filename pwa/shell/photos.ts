// Photos on their way to the home store: in pieces, each beginning where the last one ended, whichever line it went over.
// One is let go as due only when the home store says that it has all of it; the picture itself stays on this phone.

import { duePhotos, photoArrived, readPhoto } from './keep';

const PIECE = 256 << 10;
const AGAIN = 30_000;

export class PhotoSender {
  private running = false;
  private wanted = false;
  private timer: ReturnType<typeof setTimeout> | undefined;

  /** tell hears how many photos are still on this phone alone. */
  constructor(
    private readonly token: () => string,
    private readonly tell: (due: number) => void,
  ) {}

  /** There may be something to send, and somebody to send it to. */
  async nudge(): Promise<void> {
    this.wanted = true;
    if (this.running) return;
    this.running = true;
    clearTimeout(this.timer);
    try {
      while (this.wanted) {
        this.wanted = false;
        await this.sendAll();
      }
    } catch {
      // It stays due. A line that comes back nudges too; a full or busy home store is asked again by the clock.
      this.timer = setTimeout(() => void this.nudge(), AGAIN);
    }
    this.running = false;
  }

  stop(): void {
    clearTimeout(this.timer);
    this.wanted = false;
  }

  private async sendAll(): Promise<void> {
    let due = await duePhotos();
    this.tell(due.length);
    while (due.length > 0) {
      const name = due[0] as string;
      const bytes = await readPhoto(name);
      if (bytes) await this.send(name, bytes);
      await photoArrived(name);
      due = await duePhotos();
      this.tell(due.length);
    }
  }

  private async send(name: string, bytes: ArrayBuffer): Promise<void> {
    const asked = await this.ask(name, { method: 'HEAD' });
    if (asked.ok) return;
    let at = offset(asked);
    for (;;) {
      const answer = await this.ask(name, {
        method: 'PATCH',
        headers: { 'Upload-Offset': String(at), 'Upload-Length': String(bytes.byteLength) },
        body: bytes.slice(at, at + PIECE),
      });
      if (answer.status === 200) return;
      // 409: another tab or an answer that was lost has moved it on.
      if (answer.status !== 202 && answer.status !== 409) throw new Error(`the home store answered ${answer.status}`);
      at = offset(answer);
    }
  }

  private ask(name: string, { headers, ...init }: RequestInit): Promise<Response> {
    return fetch('/api/photos/' + name, { ...init, headers: { ...headers, Authorization: `Bearer ${this.token()}` }, cache: 'no-store' });
  }
}

/** A captive portal answers too: without this header it was not the home store. */
function offset(answer: Response): number {
  const at = answer.headers.get('Upload-Offset');
  if (at === null) throw new Error('what answered was not the home store');
  return Number(at);
}

/** A photo from this phone, or from the home store when another phone took it; undefined when neither has it now. */
export async function findPhoto(name: string, token: string): Promise<Blob | undefined> {
  const mine = await readPhoto(name);
  if (mine) return new Blob([mine], { type: 'image/jpeg' });
  const answer = await fetch('/api/photos/' + name, { headers: { Authorization: `Bearer ${token}` } }).catch(() => undefined);
  return answer?.ok && answer.headers.get('Content-Type')?.startsWith('image/') ? answer.blob() : undefined;
}
