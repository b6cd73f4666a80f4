// A delivery becomes a lot. Only the ingredient and the grams are needed; the rest can stay empty.

import { useAct } from '../act';
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

export function Receive({ ingredient, back }: { ingredient: string; back: string }) {
  const act = useAct();
  const kept = useKept<Typed>('receive');
  const start: Typed = { ingredient, name: '', code: '', supplier: '', supplierLot: '', grams: '', expiry: '', cost: '' };
  const typed = kept.value ?? start;
  const set = (change: Partial<Typed>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const receive = async () => {
    const { name: _, ...args } = typed;
    const done = await act.run('lot.receive', args);
    if (!done) return;
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
