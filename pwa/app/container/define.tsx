import type { OwnContainer } from '../../shell/contract-formula';
import { useAct } from '../act';
import { besides, elsewhere, useKept } from '../book';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';

const words = ['jar', 'bottle', 'tin', 'tube', 'bar', 'pouch'];
const fields = ['name', 'brimful', 'tare', 'material', 'count'];
const start: OwnContainer = { key: '', name: '', word: 'jar', brimful: '', tare: '', material: '', closure: '', labelWidth: '', labelHeight: '', count: '', intent: '' };

/** A container of the maker's own: five lines, of which the name and the millilitres to the brim matter. */
export function NewContainer({ made }: { made: (key: string) => void }) {
  const act = useAct();
  const kept = useKept<OwnContainer>('container:new');
  const typed = kept.value ?? start;
  const set = (change: Partial<OwnContainer>) => kept.edit((now) => ({ ...(now ?? { ...start, intent: crypto.randomUUID() }), ...change }));
  const keep = async () => {
    const done = await act.run('container.define', typed);
    if (!done) return;
    kept.clear();
    made(done.key);
  };
  const field = (of: 'name' | 'brimful' | 'tare' | 'material' | 'count', label: string, more: { mode?: 'decimal' | 'numeric'; unit?: string; hint?: string } = {}) => (
    <Field label={label} name={`container-${of}`} value={typed[of]} set={(text) => set({ [of]: text })} error={besides(act.error, of)} {...more} />
  );
  return (
    <div class="detail" data-part="new-container">
      <Choice label="It is a" options={words} value={typed.word} set={(word) => set({ word })} />
      {field('name', 'What you call it', { hint: 'low jar 150 mL' })}
      <div class="pair">
        {field('brimful', 'Full to the brim', { mode: 'decimal', unit: 'mL' })}
        {field('tare', 'Empty, with lid', { mode: 'decimal', unit: 'g' })}
        {field('material', 'Made of', { hint: 'PET, glass, aluminium' })}
        {field('count', 'How many there are', { mode: 'numeric' })}
      </div>
      <Trouble error={elsewhere(act.error, fields)} />
      <button type="button" class="btn second" disabled={act.busy} onClick={() => void keep()}>
        Keep the container
      </button>
    </div>
  );
}
