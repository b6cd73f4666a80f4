// How much can be made, besides jars and fill: all that the shelf allows, or the most that a bowl holds.

import { useState } from 'preact/hooks';
import type { Draft } from '../../shell/contract';
import type { Amount } from '../../shell/contract-reckon';
import { Field } from '../parts/field';
import { Fig } from '../parts/figure';
import { Trouble } from '../parts/trouble';
import { useAsked } from './sheet';

function Offer({ of, name, part, take }: { of: Amount; name: string; part: string; take: (jars: string) => void }) {
  return (
    <div class="amount" data-part={part}>
      <div class="kv">
        <span>
          {name}
          <small>{of.says}</small>
        </span>
        <Fig of={of.mass} label={name} />
      </div>
      {of.not && <p class="faint">{of.not}</p>}
      {of.jars && (
        <button type="button" class="quiet" onClick={() => take(of.jars)}>
          Plan {of.mass.text}
        </button>
      )}
    </div>
  );
}

export function Amounts({ draft, setJars }: { draft: Draft; setJars: (jars: string) => void }) {
  const [open, setOpen] = useState(false);
  const [vessel, setVessel] = useState('');
  const [density, setDensity] = useState('');
  const answer = useAsked('amounts', open ? { draft, vessel, density } : undefined);
  const of = answer?.ok ? answer.value : undefined;
  return (
    <details data-part="amounts" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>As much as there is, or as fits</summary>
      {of && <Offer of={of.stock} name="all that the shelf allows" part="stock" take={setJars} />}
      <div class="pair">
        <Field label="bowl, filled to" name="vessel" mode="decimal" unit="mL" value={vessel} set={setVessel} />
        <Field label="its density" name="vessel-density" mode="decimal" unit="g/mL" value={density} set={setDensity} />
      </div>
      {of && <Offer of={of.vessel} name="the largest that fits the bowl" part="vessel" take={setJars} />}
      <Trouble error={answer && !answer.ok ? answer.error : undefined} />
    </details>
  );
}
