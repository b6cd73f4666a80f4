// Holding a batch and releasing it, each written with who and why.

import { useState } from 'preact/hooks';
import type { Batch } from '../../shell/contract';
import { useAct } from '../act';
import { besides, elsewhere, useKept } from '../book';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';

export const caution =
  'This book checks arithmetic and the rules that it names. It does not find a product safe or legal. Before anything is sold, the law of the place decides; tests by a laboratory and a safety assessment by a qualified person come first where it asks for them.';

export function Standing({ of }: { of: Batch }) {
  const [open, setOpen] = useState<'' | 'hold' | 'release'>('');
  if (open === 'hold') return <Hold batch={of.row.key} close={() => setOpen('')} />;
  if (open === 'release') return <Release batch={of.row.key} close={() => setOpen('')} />;
  return (
    <div class="two">
      {of.canHold && (
        <button type="button" class="btn second" onClick={() => setOpen('hold')}>
          Hold this batch
        </button>
      )}
      {of.canRelease && (
        <button type="button" class="btn" onClick={() => setOpen('release')}>
          Release
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

function Release({ batch, close }: { batch: string; close: () => void }) {
  const act = useAct();
  const kept = useKept<{ by: string; looked: string }>(`release:${batch}`);
  const start = { by: '', looked: '' };
  const typed = kept.value ?? start;
  const set = (change: Partial<typeof start>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const release = async () => {
    if (!(await act.run('batch.release', { batch, ...typed }))) return;
    kept.clear();
    close();
  };
  return (
    <form
      class="standing"
      onSubmit={(e) => {
        e.preventDefault();
        void release();
      }}
    >
      <p class="caution">{caution}</p>
      <Field label="Released by" name="by" value={typed.by} set={(by) => set({ by })} error={besides(act.error, 'by')} />
      <Field label="Looked at" name="looked" value={typed.looked} set={(looked) => set({ looked })} hint="Firmer, colour, sunk, smell, pH." />
      <Trouble error={elsewhere(act.error, ['by'])} />
      <div class="two">
        <button type="button" class="btn second" onClick={close}>
          Not now
        </button>
        <button type="submit" class="btn" disabled={act.busy}>
          Release
        </button>
      </div>
    </form>
  );
}
