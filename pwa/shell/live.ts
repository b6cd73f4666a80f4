// Views that the page watches: evaluated again when the book changes, posted only when they say something else.

import { asResult, call, Op, type Answer } from './engine';
import type { FromWorker } from './messages';

interface Watch {
  name: string;
  args: unknown;
  last: string;
}

export class LiveViews {
  private readonly watches = new Map<number, Watch>();
  private queued = false;
  private running = false;

  constructor(private readonly post: (message: FromWorker) => void) {}

  subscribe(sub: number, name: string, args: unknown): void {
    const watch: Watch = { name, args, last: '' };
    this.watches.set(sub, watch);
    if (this.running) this.evaluate(sub, watch);
  }

  release(sub: number): void {
    this.watches.delete(sub);
  }

  /** The engine is up and holds the book, or no longer. */
  run(running: boolean): void {
    this.running = running;
    this.changed();
  }

  /** Several changes in one turn are one evaluation. */
  changed(): void {
    if (this.queued || !this.running) return;
    this.queued = true;
    setTimeout(() => {
      this.queued = false;
      if (!this.running) return;
      for (const [sub, watch] of this.watches) this.evaluate(sub, watch);
    });
  }

  private evaluate(sub: number, watch: Watch): void {
    const answer: Answer = call(Op.view, { name: watch.name, args: watch.args });
    const said = (answer.ok ? '1' : '0') + answer.text;
    if (said === watch.last) return;
    watch.last = said;
    this.post({ from: 'view', sub, result: asResult(answer) });
  }
}
