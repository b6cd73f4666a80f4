// An ingredient: what it is made of, and each figure with where it comes from.

import type { SourcedFigure } from '../../shell/contract-formula';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Kept } from '../parts/kept';
import { Go } from '../parts/link';

const fromWord: Record<string, string> = { own: 'your own entry', supplier: 'supplier’s document' };

/** How surely a figure is known, where its source does not say so in words already. */
const markWord: Record<string, string> = { 'R~': 'read second hand', 'M?': 'not sure', C: 'computed' };

function Sourced({ of }: { of: SourcedFigure }) {
  return (
    <div class="kv" data-from={of.from}>
      <span>
        {of.what}
        <small>{[of.from !== 'given' && fromWord[of.from], of.source, markWord[of.mark], of.date].filter(Boolean).join(' · ')}</small>
      </span>
      <b class="num">{of.text}</b>
    </div>
  );
}

export function IngredientScreen({ id, back }: { id: string; back: string }) {
  const from = { to: back.startsWith('/') ? back : '/formulas', text: 'Back' };
  const answer = useView('ingredient', { key: id });
  if (!answer) return <NotThere name="ingredient" title="" back={from} />;
  if (!answer.ok) return <NotThere name="ingredient" title="Ingredient" back={from} error={answer.error} />;
  const of = answer.value;
  const args = new URLSearchParams({ key: of.key, name: of.name, inci: of.inci });
  return (
    <Screen
      name="ingredient"
      title={of.name}
      sub={of.own ? 'your own' : of.about}
      back={from}
      foot={
        <Go to={`/ingredients/new?${args}`} class="btn second">
          {of.typed ? 'Change your figures' : 'Write your own figures'}
        </Go>
      }
    >
      <div class="paper">
        <h2 class="ph">
          <span>made of</span>
          {of.own && <Kept where={of.where} />}
        </h2>
        {of.composition.map((s) => (
          <div class="kv" key={s.inci}>
            <span>
              {s.inci}
              {s.listed === 'no' && <small>not listed on the label</small>}
            </span>
            <span class="num">{s.percent}</span>
          </div>
        ))}
        <h2 class="ph">
          <span>figures</span>
        </h2>
        {of.figures.map((f) => (
          <Sourced key={f.what + f.text} of={f} />
        ))}
        {of.figures.length === 0 && <p class="faint">No figure is known of it. Checks that need one say “not checked”.</p>}
      </div>
    </Screen>
  );
}
