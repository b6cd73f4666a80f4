// From which lot: one line that says it, opening to all that are on the shelf.

import type { LotChoice } from '../../shell/contract';
import { Go } from '../parts/link';

interface LotProps {
  lots: readonly LotChoice[];
  lot: string;
  open: boolean;
  /** what receiving a lot begins with: the line of the batch that it is for, or its ingredient, and the way back */
  receive: Record<string, string>;
  toggle: () => void;
  choose: (key: string) => void;
}

export function LotChooser({ lots, lot, open, receive, toggle, choose }: LotProps) {
  const now = lots.find((l) => l.key === lot);
  return (
    <div class="lots" data-part="lots">
      <button type="button" class="chip" aria-expanded={open} onClick={toggle}>
        {now ? (
          <span>
            lot <b>{now.code}</b> <small>{now.says}</small>
          </span>
        ) : (
          <span>{lots.length > 0 ? 'no lot said' : 'no lot of this on the shelf'}</span>
        )}
      </button>
      {open && (
        <div class="lot-list">
          {lots.map((l) => (
            <button key={l.key} type="button" class="kv" disabled={l.held} aria-pressed={l.key === lot} data-lot={l.code} onClick={() => choose(l.key)}>
              <span>
                <b>{l.code}</b>
                <small>{l.says}</small>
              </span>
              {l.held && <i class="word stop">held</i>}
            </button>
          ))}
          <button type="button" class="kv" aria-pressed={lot === ''} onClick={() => choose('')}>
            <span>no lot said</span>
          </button>
          <Go class="kv" to={`/shelf/receive?${new URLSearchParams(receive)}`}>
            <span>Receive a lot</span>
          </Go>
        </div>
      )}
    </div>
  );
}
