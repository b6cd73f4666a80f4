// An ingredient of the maker's own. Three lines are enough; what the supplier's document says besides stands folded.

import type { OwnIngredient } from '../../shell/contract-formula';
import { useAct } from '../act';
import { besides, elsewhere, useKept, useView } from '../book';
import { wasMade } from '../formula/made';
import { Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';
import { go } from '../route';

const notKnown = { value: '', text: 'not known' };
const charges = ['anionic', 'cationic', 'amphoteric', 'non-ionic', 'none', notKnown];
const solubles = ['water', 'oil', 'both', 'neither', notKnown];
const open = ['name', 'inci', 'source'];
const countable = ['water', 'plant powder', 'food for microbes', 'nut-derived', 'plastic', 'colour'];
const certificate = ['scheme', 'amendment', 'certified', 'maxima', 'flash', 'allergens', 'vanillin'];
const folded = [...certificate, 'worksLow', 'worksHigh', 'counts', 'composition', 'charge', 'soluble', 'phLow', 'phHigh', 'useLow', 'useHigh', 'density', 'maxTemperature'];

type Words = Exclude<keyof OwnIngredient, 'airborne' | 'corrosive' | 'key' | 'preservative' | 'counts'>;

function fresh(key: string, name: string, inci: string): OwnIngredient {
  return {
    key,
    name,
    inci,
    composition: '',
    charge: '',
    soluble: '',
    phLow: '',
    phHigh: '',
    useLow: '',
    useHigh: '',
    density: '',
    maxTemperature: '',
    airborne: false,
    corrosive: false,
    source: 'my own entry',
  };
}

interface OwnProps {
  /** '' for a new one, else the ingredient whose figures are written anew */
  id: string;
  name: string;
  inci: string;
  back: string;
}

export function OwnIngredientScreen({ id, name, inci, back }: OwnProps) {
  const act = useAct();
  const kept = useKept<OwnIngredient>(`ingredient:${id || 'new'}`);
  const had = useView('ingredient', { key: id });
  const start = (had?.ok && had.value.typed) || fresh(id, name, inci);
  const typed = kept.value ?? start;
  const set = (change: Partial<OwnIngredient>) => kept.edit((now) => ({ ...(now ?? start), ...change }));
  const from = back.startsWith('/') ? back : '/formulas';
  const keep = async () => {
    const done = await act.run('ingredient.define', typed);
    if (!done) return;
    kept.clear();
    if (!id) wasMade(done.key, typed.name);
    go(id ? `/ingredients/${done.key}` : from, true);
  };
  const field = (of: Words, label: string, more: { mode?: 'decimal'; unit?: string; hint?: string; long?: boolean } = {}) => (
    <Field label={label} name={of} value={typed[of] ?? ''} set={(text) => set({ [of]: text })} error={besides(act.error, of)} {...more} />
  );
  const inFold = act.error !== undefined && folded.includes(act.error.field);
  return (
    <Screen
      name="own-ingredient"
      title={id ? `Figures of ${name}` : 'An ingredient of your own'}
      back={{ to: id ? `/ingredients/${id}` : from, text: 'Back' }}
      foot={
        <>
          <Trouble error={elsewhere(act.error, [...open, ...folded])} />
          <button type="button" class="btn" disabled={act.busy} onClick={() => void keep()}>
            Keep
          </button>
        </>
      }
    >
      <div class="paper">
        {field('name', 'What you call it')}
        {field('inci', 'INCI name', { hint: 'As it stands on the tub; labels print it.' })}
        {field('source', 'Where the figures come from', { hint: 'my own entry, or the supplier’s document with its date' })}
        <label class="tick">
          <input type="checkbox" checked={typed.airborne} onChange={(e) => set({ airborne: e.currentTarget.checked })} />a powder that flies
        </label>
        <label class="tick">
          <input type="checkbox" checked={typed.corrosive} onChange={(e) => set({ corrosive: e.currentTarget.checked })} />
          corrosive
        </label>
        <label class="tick">
          <input type="checkbox" name="preservative" checked={typed.preservative === true} onChange={(e) => set({ preservative: e.currentTarget.checked })} />a preservative
        </label>
        {typed.preservative && (
          <div class="pair" data-part="keeper">
            {field('worksLow', 'Works from pH', { mode: 'decimal' })}
            {field('worksHigh', 'to pH', { mode: 'decimal' })}
            {field('useLow', 'Use from', { mode: 'decimal', unit: '%' })}
            {field('useHigh', 'to', { mode: 'decimal', unit: '%' })}
            {field('maxTemperature', 'Added below', { hint: '40 C or 104 F' })}
          </div>
        )}
        <details data-part="certificate" open={(inFold && certificate.includes(act.error?.field ?? '')) || undefined}>
          <summary>A scent’s certificate</summary>
          <p class="hint">From the supplier’s papers for this very scent. It stands above the given figures, and allergens and vanillin are summed over all scents of a formula.</p>
          <div class="pair">
            {field('scheme', 'Scheme', { hint: 'such as IFRA' })}
            {field('amendment', 'Amendment', { mode: 'decimal' })}
            {field('certified', 'Its date', { hint: '2026-03-01' })}
            {field('flash', 'Flash point', { hint: '65 C or 149 F' })}
            {field('vanillin', 'Vanillin in it', { mode: 'decimal', unit: '%' })}
          </div>
          {field('maxima', 'Most in a product, by category', { long: true, hint: 'A line for each: category and per cent, such as 5A 0.3.' })}
          {field('allergens', 'Allergens in it', { long: true, hint: 'A line for each: name and per cent of the scent, such as Linalool 31.2. All that the statement names.' })}
        </details>
        <details data-part="more-figures" open={(inFold && !certificate.includes(act.error?.field ?? '')) || undefined}>
          <summary>What else is known of it</summary>
          {field('composition', 'Composition', { long: true, hint: 'A line for each: INCI name and per cent. Empty: the one INCI name at 100 %.' })}
          <Choice label="Charge" options={charges} value={typed.charge} set={(charge) => set({ charge })} />
          <Choice label="Dissolves in" options={solubles} value={typed.soluble} set={(soluble) => set({ soluble })} />
          <div class="pair">
            {field('phLow', 'Lasts from pH', { mode: 'decimal' })}
            {field('phHigh', 'to pH', { mode: 'decimal' })}
            {!typed.preservative && field('useLow', 'Use from', { mode: 'decimal', unit: '%' })}
            {!typed.preservative && field('useHigh', 'to', { mode: 'decimal', unit: '%' })}
            {field('density', 'Density', { mode: 'decimal', unit: 'g/mL' })}
            {!typed.preservative && field('maxTemperature', 'Added below', { hint: '40 C or 104 F' })}
          </div>
          <fieldset class="choice">
            <legend>It counts as</legend>
            <div class="options">
              {countable.map((word) => {
                const on = typed.counts?.includes(word) === true;
                return (
                  <label key={word} class={on ? 'option chosen' : 'option'}>
                    <input
                      type="checkbox"
                      checked={on}
                      onChange={() => set({ counts: on ? (typed.counts ?? []).filter((c) => c !== word) : countable.filter((c) => c === word || typed.counts?.includes(c)) })}
                    />
                    {word}
                  </label>
                );
              })}
            </div>
          </fieldset>
          <Trouble error={besides(act.error, 'counts')} />
        </details>
      </div>
    </Screen>
  );
}
