// Holding a batch and releasing it, each written with who and why.

import { useState } from 'preact/hooks';
import type { Batch } from '../../shell/contract';
import { useAct } from '../act';
import { besides, elsewhere, useKept } from '../book';
import { LawLines } from '../law/tables';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { go } from '../route';
import { Caution } from './caution';

/** What may be done with a batch: look at it and release it by name on a page of its own; hold it at any time. */
export function Standing({ of }: { of: Batch }) {
  const [holding, setHolding] = useState(false);
  if (holding) return <Hold batch={of.row.key} close={() => setHolding(false)} />;
  const look = of.canLook && of.looks.length === 0;
  return (
    <div class="two">
      {of.canHold && (
        <button type="button" class="btn second" onClick={() => setHolding(true)}>
          Hold this batch
        </button>
      )}
      {(look || of.canRelease) && (
        <button type="button" class={of.row.state === 'held' ? 'btn second' : 'btn'} onClick={() => go(`/batches/${of.row.key}/look`)}>
          {look ? 'Look at it' : of.row.state === 'held' ? 'Look at it again, or release it' : 'Release'}
        </button>
      )}
    </div>
  );
}

function Hold({ batch, close }: { batch: string; close: () => void }) {
  const act = useAct();
  const kept = useKept<string>(`hold:${batch}`);
  const hold = async () => {
    if (!(await act.run('batch.hold', { batch, reason: kept.value ?? '' }))) return;
    kept.clear();
    close();
  };
  return (
    <form
      class="standing"
      onSubmit={(e) => {
        e.preventDefault();
        void hold();
      }}
    >
      <Field label="Why it is held" name="reason" value={kept.value ?? ''} set={kept.set} error={besides(act.error, 'reason')} hint="Held means: not used, not sold. It can be released again by name." />
      <Trouble error={elsewhere(act.error, ['reason'])} />
      <div class="two">
        <button type="button" class="btn second" onClick={close}>
          Not now
        </button>
        <button type="submit" class="btn" disabled={act.busy}>
          Hold
        </button>
      </div>
    </form>
  );
}

export function Release({ of }: { of: Batch }) {
  const act = useAct();
  const batch = of.row.key;
  const kept = useKept<{ by: string; looked: string; sale: string }>(`release:${batch}`);
  const start = { by: '', looked: '', sale: '' };
  const typed = kept.value ?? start;
  const set = (change: Partial<typeof start>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const release = async () => {
    if (await act.run('batch.release', { batch, ...typed })) kept.clear();
  };
  return (
    <form
      class="standing"
      data-part="release"
      onSubmit={(e) => {
        e.preventDefault();
        void release();
      }}
    >
      <Field label="Released by" name="by" value={typed.by} set={(by) => set({ by })} error={besides(act.error, 'by')} hint="The name of who looked at it." />
      {of.looks.length === 0 && <Field label="Looked at" name="looked" value={typed.looked} set={(looked) => set({ looked })} hint="Firmer, colour, sunk, smell, pH." />}
      {of.row.purpose === 'trial' && (
        <Field label="Why this trial may be sold" name="sale" value={typed.sale} set={(sale) => set({ sale })} error={besides(act.error, 'sale')} hint="Leave it empty and it stays a trial: not for sale." />
      )}
      <Trouble error={elsewhere(act.error, ['by', 'sale'])} />
      <LawLines />
      <Caution />
      <button type="submit" class="btn" disabled={act.busy}>
        Release
      </button>
    </form>
  );
}
