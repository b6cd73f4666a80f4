// A delivery becomes a lot. Only the ingredient and the grams are needed; the rest can stay empty.

import { useEffect } from 'preact/hooks';
import { ask, draft, keepDraft } from '../../shell/client';
import { useAct } from '../act';
import { asAtBench, nothing, type AtBench } from '../bench/step';
import { besides, elsewhere, useKept } from '../book';
import { Picker } from '../formula/picker';
import { Screen } from '../frame/screen';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { go } from '../route';

interface Typed {
  ingredient: string;
  name: string;
  code: string;
  supplier: string;
  supplierLot: string;
  grams: string;
  expiry: string;
  cost: string;
}

const fields = ['ingredient', 'code', 'supplier', 'supplierLot', 'grams', 'expiry', 'cost'];

interface ReceiveProps {
  ingredient: string;
  back: string;
  /** the batch and its line at the bench that a lot is missing for */
  batch: string;
  line: string;
}

/** What a line of a batch holds, by the revision that the batch is made from. */
async function lineHolds(batch: string, line: string): Promise<{ ingredient: string; name: string } | undefined> {
  const made = await ask('batch', { key: batch });
  if (!made.ok) return undefined;
  const formula = await ask('formula', { key: made.value.formula, revision: made.value.revision });
  const held = formula.ok ? formula.value.draft.lines.find((l) => l.id === line) : undefined;
  const name = made.value.wentIn.find((w) => w.line === line)?.name ?? '';
  return held && { ingredient: held.ingredient || held.base, name };
}

/** The bench goes on with the lot that just came in; what was on its pad stays there. */
async function chooseAtBench(batch: string, line: string, lot: string): Promise<void> {
  const now = asAtBench(await draft<AtBench>(`bench:${batch}`));
  const step = `weigh:${line}`;
  const beside = now.beside?.line === line ? { ...now.beside, lot } : now.beside;
  await keepDraft(`bench:${batch}`, { ...now, beside, halves: { ...now.halves, [step]: { ...(now.halves[step] ?? nothing), lot } } });
}

export function Receive({ ingredient, back, batch, line }: ReceiveProps) {
  const act = useAct();
  const kept = useKept<Typed>(line ? `receive:${batch}:${line}` : 'receive');
  const start: Typed = { ingredient, name: '', code: '', supplier: '', supplierLot: '', grams: '', expiry: '', cost: '' };
  const typed = kept.value ?? start;
  const set = (change: Partial<Typed>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  useEffect(() => {
    if (!line || !kept.known || typed.ingredient) return;
    void lineHolds(batch, line).then((held) => {
      if (held) kept.edit((now) => (now?.ingredient ? now : { ...(now ?? start), ...held }));
    });
  }, [batch, line, kept.known]);
  const receive = async () => {
    const { name: _, ...args } = typed;
    const done = await act.run('lot.receive', args);
    if (!done) return;
    if (line) await chooseAtBench(batch, line, done.key);
    kept.clear();
    go(back.startsWith('/make/') ? back : '/shelf');
  };
  const field = (name: keyof Typed, label: string, more: { mode?: 'decimal'; unit?: string; hint?: string; caps?: boolean } = {}) => (
    <Field label={label} name={name} value={typed[name]} set={(text) => set({ [name]: text })} error={besides(act.error, name)} {...more} />
  );
  return (
    <Screen
      name="receive"
      title="Receive a lot"
      back={back.startsWith('/make/') ? { to: back, text: 'Bench' } : { to: '/shelf', text: 'Shelf' }}
      foot={
        <>
          <Trouble error={elsewhere(act.error, fields)} />
          <button type="button" class="btn" disabled={act.busy} onClick={() => void receive()}>
            Receive
          </button>
        </>
      }
    >
      <div class="paper">
        {typed.ingredient ? (
          <div class="kv" data-part="chosen">
            <b>{typed.name || typed.ingredient}</b>
            <button type="button" class="quiet" onClick={() => set({ ingredient: '', name: '' })}>
              Another
            </button>
          </div>
        ) : (
          <Picker label="Which ingredient" bases pick={(chosen, name) => set({ ingredient: chosen.ingredient || chosen.base, name })} />
        )}
        <Trouble error={besides(act.error, 'ingredient')} />
        {field('grams', 'How much', { mode: 'decimal', unit: 'g' })}
        {field('code', 'Your code for this tub', { hint: 'Left empty, the book gives one.', caps: true })}
        {field('expiry', 'Best before', { hint: '2027-11-30, or 11/2027 for the last day of that month' })}
        {field('supplier', 'Supplier')}
        {field('supplierLot', 'Supplier’s lot number')}
        {field('cost', 'What it cost in all', { mode: 'decimal' })}
      </div>
    </Screen>
  );
}
