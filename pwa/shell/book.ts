// The book on this phone: the engine, what is kept, and the line to the home store, in the one order that loses nothing.
// An entry is applied only after it is on disk; an envelope is acknowledged only after it is on disk.

import { steps, type Shut, type Step, type Torn } from './actions';
import { handAgain } from './anew';
import { dropMended, mended } from './aside';
import { asResult, call, Op, split, startEngine, type Answer } from './engine';
import { fill } from './fill';
import * as keep from './keep';
import { linkState } from './link';
import { mend } from './mend';
import { PhotoSender } from './photos';
import type { Backup, LinkState, Result, Way } from './contract';
import { fetchBackup, register } from './register';
import { dropSnapshot, makeSnapshot, readQuick } from './snapshot';
import { StoreSocket } from './socket';
import { isOrdinary, notKept, notStored, sentence } from './trouble';

export interface BookEvents {
  changed(): void;
  /** what is kept must be read anew before anything else is decided: a fault in the engine after a write, or another log under it */
  broken(told?: string): void;
  link(state: LinkState): void;
}

interface Written {
  value: unknown;
  entries: { stream: string; seq: number }[];
}

const TICK = 1000;
const AGAIN = 4000;
const HOUR = 3600_000;
/** so many new entries are worth a snapshot, so long after the last thing that was done */
const FRESH = 2000;
const QUIET = 4000;

/** whether this worker has read everything once more since a log was found damaged */
let readAgain = false;

export class Book {
  private device: keep.Device | undefined;
  private acked: Record<string, number> = {};
  private epochs: Record<string, string> = {};
  private unsent = 0;
  private folded = 0;
  /** how far the last snapshot goes, and how many envelopes that are */
  private snapshotAt: Record<string, number> = {};
  private snapshotOf = 0;
  private busyAt = Date.now();
  private photosDue = 0;
  private online = false;
  private settledAt = 0;
  private trouble = '';
  private shut: Shut | undefined;
  private aside = { chunks: 0, rows: 0, handed: 0 };
  private closed = false;
  private again: (() => void) | undefined;
  private backup: Backup = { says: '', warn: false };
  private backupAt = 0;
  private writing: Promise<unknown> = Promise.resolve();
  private doing: Promise<unknown> = Promise.resolve();
  private ticker: ReturnType<typeof setInterval> | undefined;
  private readonly socket: StoreSocket;
  private readonly photos = new PhotoSender(
    () => this.token,
    (due) => {
      this.photosDue = due;
      this.tell();
    },
  );
  private line = 0;
  /** the line on which hello was said: before that nothing else may go out on it */
  private greeted = -1;
  /** asked to be persisted, and not yet being written */
  private arrived: keep.Arrival[] = [];

  /** told: what happened just before, for a person to read; way: how to go on, as it stood then */
  constructor(private readonly events: BookEvents, private readonly told = '', private way?: Way) {
    const scheme = location.protocol === 'https:' ? 'wss' : 'ws';
    this.socket = new StoreSocket(`${scheme}://${location.host}/ws`, {
      opened: () => this.lineOpened(),
      received: (message) => this.perform(call(Op.receive, {}, message)),
      closed: () => this.lineClosed(),
    });
  }

  get id(): string {
    return this.device?.device ?? '';
  }

  get token(): string {
    return this.device?.token ?? '';
  }

  /** Reads everything that is kept into a fresh engine. Rejects when the phone is not known yet and the store is away. */
  async open(): Promise<void> {
    await Promise.all([startEngine(), keep.own()]);
    const [kept, found] = await Promise.all([keep.readAll(), readQuick()]);
    if (!kept.device) {
      kept.device = await register();
      await keep.keepMeta('device', kept.device);
    }
    this.device = kept.device;
    this.photosDue = (await keep.duePhotos()).length;
    this.acked = kept.acked;
    this.epochs = kept.epochs;
    this.aside = kept.aside;
    let opened = found && (await fill(kept, found));
    if (opened?.ok) {
      this.snapshotAt = found?.heads ?? {};
      this.snapshotOf = Object.values(this.snapshotAt).reduce((sum, seq) => sum + seq, 0);
    } else {
      if (found) await dropSnapshot().catch(() => undefined);
      opened = (await fill(kept)) as Answer;
    }
    this.perform(opened);
    if (opened.ok && steps(opened).mend) {
      // Without its own numbers it cannot say hello.
      void this.mend(steps(opened).mend as Torn[]);
      return;
    }
    // What was cut between its two streams gets its second half.
    await this.command('book.complete', {});
    this.socket.start();
    this.ticker = setInterval(() => {
      this.perform(call(Op.tick, {}));
      if (this.online && Date.now() - this.backupAt > HOUR) this.askBackup();
      this.snapshotSoon();
    }, TICK);
  }

  /** After many new entries and when nothing is going on, the book is written down for the next start. */
  private snapshotSoon(): void {
    if (this.folded - this.snapshotOf < FRESH || Date.now() - this.busyAt < QUIET || this.shut) return;
    this.snapshotOf = this.folded; // one try for so many entries
    // Nothing is stored meanwhile, since that waits in the same queue.
    this.doing = this.doing
      .then(() => this.writing)
      .then(() => makeSnapshot(this.snapshotAt, () => this.closed))
      .then((heads) => {
        this.snapshotAt = heads ?? this.snapshotAt;
      })
      .catch(() => undefined);
  }

  /** Fetches what this phone's copy lacks until all of it is here; then the book is read anew. */
  private async mend(torn: Torn[]): Promise<void> {
    const said = (this.shut as Shut | undefined)?.tells.split(';')[0] ?? '';
    while (!this.closed) {
      try {
        const { why, stream, says } = await mend(this.token, torn, () => this.closed);
        if (this.closed) return;
        if (why === '') {
          await mended();
          this.events.broken(said + '. They came again from the home store, and the book on this phone is whole.');
          return;
        }
        this.trouble = says;
        if (why !== 'away') this.perform(call(Op.load, { kind: 'refused', stream, code: why }));
        else this.tell();
      } catch (error) {
        await this.readAnew(error);
        return;
      }
      await this.pause();
    }
  }

  private pause(): Promise<void> {
    return new Promise<void>((resolve) => {
      this.again = resolve;
      setTimeout(resolve, AGAIN);
    });
  }

  /** What the engine has in memory could not be written: it is told, and a little later all is read anew. */
  private async readAnew(error: unknown): Promise<void> {
    if (error instanceof keep.TakenAway) return; // by a tab that has the book now
    this.trouble = notStored(error);
    this.tell();
    // What stops a write may lie in a piece that a snapshot hides.
    await dropSnapshot().catch(() => undefined);
    await this.pause();
    this.events.broken();
  }

  /** Lets go of everything, once writes under way are settled; what is kept stays kept. */
  async close(): Promise<void> {
    this.closed = true;
    this.again?.();
    clearInterval(this.ticker);
    this.socket.stop();
    this.photos.stop();
    await Promise.allSettled([this.writing, this.doing]);
  }

  nudge(): void {
    this.again?.();
    this.socket.nudge();
  }

  /** Resolves when a photo is on disk here; it is sent when there is somebody to send it to. */
  async keepPhoto(name: string, bytes: ArrayBuffer): Promise<void> {
    await keep.keepPhoto(name, bytes);
    this.photosDue++;
    this.tell();
    if (this.online) void this.photos.nudge();
  }

  /** Commands one after the other: each is decided on the book as the one before left it. */
  command(name: string, args: unknown): Promise<Result<unknown>> {
    const turn = this.writing.then(() => this.decide(name, args));
    this.writing = turn.catch(() => undefined);
    return turn;
  }

  private async decide(name: string, args: unknown): Promise<Result<unknown>> {
    this.busyAt = Date.now();
    const answer = call(Op.command, { name, args });
    if (!answer.ok) return asResult(answer);
    const written = JSON.parse(answer.text) as Written;
    const items = split(answer.raw);
    const rows = written.entries.map((entry, i) => ({ ...entry, bytes: items[i] as Uint8Array }));
    try {
      if (rows.length > 0) await keep.keepEntries(rows);
    } catch (error) {
      call(Op.aborted, {});
      // Something stands there that this engine does not know of.
      if (error instanceof keep.Forked) this.events.broken();
      return { ok: false, error: notKept(error) };
    }
    const applied = call(Op.committed, {});
    this.perform(applied);
    if (!applied.ok) this.events.broken();
    return { ok: true, value: written.value };
  }

  /** Does what the engine asks, in its order. Work of a line that is gone by then is let go: the next line brings it again. */
  private perform(answer: Answer): void {
    if (!answer.ok) {
      const refused = asResult(answer);
      this.trouble = refused.ok ? '' : sentence(refused.error);
      this.tell();
      return;
    }
    const outcome = steps(answer);
    this.unsent = outcome.unsent;
    this.folded = outcome.folded;
    this.shut = outcome.shut;
    if (outcome.changed) this.events.changed();
    const line = this.line;
    for (const step of outcome.steps) {
      // Sends go at once, so that a slow disk does not look like a dead phone.
      if (step.action.do === 'persist') this.arrived.push(keep.arrival(step.action, step.bytes));
      if (step.action.do === 'send') {
        if (this.greeted === this.line) this.socket.send(step.bytes);
      } else this.doing = this.doing.then(() => (line === this.line ? this.act(step) : undefined)).catch(() => this.socket.drop());
    }
    this.tell();
  }

  private async act(step: Step): Promise<void> {
    const { action } = step;
    switch (action.do) {
      case 'send':
        return;
      case 'persist':
        await this.keepArrived();
        return;
      case 'fetch': {
        const { stream, after, last } = action;
        // What cannot be read is not handed back: the engine says so when it comes short.
        this.perform(call(Op.fetched, { stream, after }, await keep.readEnvelopes(stream, after, last).catch(() => undefined)));
        return;
      }
      case 'swap':
        // Entries under way are on disk or refused before the log under them is another.
        await this.writing;
        await keep.swapEnd(action, step.bytes, { acked: this.acked, epochs: this.epochs }).then(
          () => this.events.broken(),
          (error: unknown) => this.readAnew(error),
        );
        return;
      case 'acked':
        this.acked = { ...this.acked, [action.stream]: action.seq };
        await keep.keepMeta('acked', this.acked);
        return;
      case 'welcomed':
        await this.welcomed(action.role, action.letter, action.clock, action.epochs);
        return;
      case 'stop':
        // Where there is a way to go on, it says what to do.
        this.trouble = isOrdinary(action.code) ? '' : action.way ? action.says : sentence(action);
        this.way = action.way;
        if (action.code === 'damaged' && !readAgain) {
          // It may be this phone's own copy, of which a start from a snapshot reads the end alone.
          readAgain = true;
          await dropSnapshot().then(() => this.events.broken());
        }
        if (action.fatal) this.socket.stop();
        else this.socket.drop();
    }
  }

  /** Everything that came meanwhile in one transaction: a disk that is slow then makes fewer writes, not a longer queue. */
  private async keepArrived(): Promise<void> {
    const taken = this.arrived;
    if (taken.length === 0) return;
    this.busyAt = Date.now();
    this.arrived = [];
    try {
      await keep.keepArrivals(taken);
    } catch (error) {
      this.trouble = notStored(error);
      this.tell();
      throw error;
    }
    const last = new Map(taken.map(({ chunk }) => [chunk.stream, chunk.to]));
    for (const [stream, seq] of last) this.perform(call(Op.stored, { stream, seq }));
  }

  private async welcomed(role: string, letter: string, clock: string, epochs: Record<string, string>): Promise<void> {
    this.online = true;
    this.trouble = clock;
    this.way = undefined;
    this.socket.settled();
    this.tell();
    this.askBackup();
    void keep
      .photosDueIn(JSON.stringify(epochs))
      .catch(() => undefined)
      .then(() => this.photos.nudge());
    if (this.device && (this.device.role !== role || this.device.letter !== letter)) {
      this.device = { ...this.device, role, letter };
      await keep.keepMeta('device', this.device);
    }
    if (JSON.stringify(epochs) !== JSON.stringify(this.epochs)) {
      this.epochs = epochs;
      await keep.keepMeta('epochs', epochs);
    }
    if (this.aside.handed > 0 && this.device) void handAgain(this.device, epochs).catch(() => undefined); // with the next line
    if (this.aside.chunks + this.aside.handed > 0 && !this.shut) await dropMended((JSON.parse(call(Op.state, {}).text) as { heads: Record<string, number> }).heads, epochs);
  }

  /** What the home store says of its backups: at every connection, and once an hour on a long one. */
  private askBackup(): void {
    this.backupAt = Date.now();
    fetchBackup(this.token).then(
      (backup) => {
        this.backup = backup;
        this.tell();
      },
      () => undefined, // an older home store says nothing
    );
  }

  // Both wait for the write under way: the engine must know what is on disk before it says hello.
  private lineOpened(): void {
    const line = this.line;
    this.doing = this.doing.then(() => {
      if (line !== this.line) return;
      this.greeted = line;
      this.perform(call(Op.connect, {}));
    });
  }

  private lineClosed(): void {
    this.line++;
    this.arrived = [];
    this.online = false;
    this.doing = this.doing.then(() => this.perform(call(Op.closed, {})));
    this.tell();
  }

  private tell(): void {
    if (this.online && this.unsent + this.photosDue === 0) this.settledAt = Date.now();
    this.events.link(linkState({ online: this.online, unsent: this.unsent, photos: this.photosDue, settledAt: this.settledAt, trouble: this.trouble || (this.shut?.tells ?? ''), told: this.told, way: this.way ?? this.shut?.way, aside: this.aside.rows, shut: this.shut !== undefined, backup: this.backup }));
  }
}
