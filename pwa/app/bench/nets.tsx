// Filled jars against their label: what was weighed, by number, and what the rule of the region says of it. Nothing here has
// to be weighed; what was typed stays on this phone until it is written.

import { useState } from 'preact/hooks';
import type { Nets } from '../../shell/contract-aid';
import { useAct, type Act } from '../act';
import { useKept, useView } from '../book';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Note } from '../parts/note';
import { Trouble } from '../parts/trouble';
import { heaviestFirst } from '../words';
import type { PanelProps } from './add';
import { Pad } from './pad';
import { SideFoot } from './sidefoot';
import { Slots } from './slots';

const slots = [
  { at: 'full', label: 'the filled jar', unit: 'g' },
  { at: 'empty', label: 'empty jar', unit: 'g' },
] as const;

interface Typed {
  jar: string;
  full: string;
  /** undefined takes what the container is known to weigh */
  empty?: string | undefined;
  system: string;
}

const blank: Typed = { jar: '', full: '', system: '' };

function useNets(batch: string, act: Act) {
  const kept = useKept<Typed>(`nets:${batch}`);
  const typed = { ...blank, ...kept.value };
  const known = useView('nets', { batch, jar: '', full: '', empty: '', system: typed.system });
  const empty = typed.empty ?? (known?.ok ? known.value.empty : '');
  const args = { batch, jar: typed.jar, full: typed.full, empty, system: typed.system };
  const answer = useView('nets', args);
  const set = (change: Partial<Typed>) => kept.edit((now) => ({ ...blank, ...now, ...change }));
  const write = async () => {
    if (await act.run('batch.net', args)) set({ jar: '', full: '' });
  };
  const now = answer?.ok ? answer.value : known?.ok ? known.value : undefined;
  return { typed, empty, set, write, now, jar: typed.jar || now?.next || '' };
}

interface JarsProps {
  of: Nets;
  jar: string;
  set: (change: Partial<Typed>) => void;
}

/** The jars that were weighed, the newest first: one that is touched is weighed again. */
function Weighed({ of, jar, set }: JarsProps) {
  if (of.weighed.length === 0) return null;
  return (
    <ol class="points" aria-label="Jars that were weighed">
      {[...of.weighed].reverse().map((j) => (
        <li key={j.number}>
          <button type="button" class="chip-key num" aria-pressed={j.number === jar} aria-label={`Weigh jar ${j.number} again, ${j.net}`} onClick={() => set({ jar: j.number })}>
            <b>{j.number}</b> {j.net} {j.short && <i class="word">short</i>}
          </button>
        </li>
      ))}
    </ol>
  );
}

/** By which rule, where there is a choice, and what failed by it. */
function Judged({ of, set }: Omit<JarsProps, 'jar'>) {
  return (
    <>
      {of.systems.length > 0 && <Choice label="By the system" quiet options={of.systems} value={of.system} set={(system) => set({ system })} />}
      {heaviestFirst(of.findings).map((f) => (
        <Note key={f.rule + f.says} of={f} />
      ))}
    </>
  );
}

export function NetsPanel({ batch, act, close }: PanelProps) {
  const { typed, empty, set, write, now, jar } = useNets(batch, act);
  const [at, setAt] = useState<'full' | 'empty'>('full');
  if (!now) return <div class="body" />;
  return (
    <>
      <div class="body step" data-step="nets">
        <p class="aid-says" aria-live="polite" data-part="nets-says">
          {now.says}
        </p>
        <Weighed of={now} jar={jar} set={set} />
        <Slots slots={slots} at={at} value={(s) => (s === 'full' ? typed.full : empty)} choose={setAt} />
        {empty && now.typed && <p class="aid-says">{now.typed} in it</p>}
        <Trouble error={act.error} />
        <Pad text={at === 'full' ? typed.full : empty} set={(text) => set({ [at]: text })} enter={() => void write()} />
        <Judged of={now} set={set} />
      </div>
      <SideFoot close={close} leave="Enough" text={jar ? `Write jar ${jar}` : 'All weighed'} part="write-net" disabled={act.busy || !typed.full || !jar} write={write} />
    </>
  );
}

/** On the record: folded until it is wanted, with the verdict on its lid. */
export function FillCheck({ batch }: { batch: string }) {
  const act = useAct();
  const { typed, empty, set, write, now, jar } = useNets(batch, act);
  if (!now) return null;
  return (
    <details class="fill-check" data-part="fill-check">
      <summary>
        <span>Fill check: {now.weighed.length > 0 ? `${now.weighed.length} weighed of ${now.of}` : now.of}</span>
      </summary>
      <p data-part="nets-says">{now.says}</p>
      <Weighed of={now} jar={jar} set={set} />
      <Judged of={now} set={set} />
      {jar && (
        <>
          <div class="pair">
            <Field label={`jar ${jar}, filled`} name="net-full" mode="decimal" unit="g" value={typed.full} set={(full) => set({ full })} />
            <Field label="empty jar" name="net-empty" mode="decimal" unit="g" value={empty} set={(text) => set({ empty: text })} />
          </div>
          <Trouble error={act.error} />
          <button type="button" class="quiet" disabled={act.busy || !typed.full} data-part="write-net" onClick={() => void write()}>
            Write jar {jar}
            {now.typed && `: ${now.typed}`}
          </button>
        </>
      )}
    </details>
  );
}
