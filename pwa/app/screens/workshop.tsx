// Who the workshop is: what labels say.

import type { Workshop } from '../../shell/contract-workshop';
import { useAct } from '../act';
import { besides, elsewhere, useKept } from '../book';
import { Field } from '../parts/field';
import { Trouble } from '../parts/trouble';

const fields = ['maker', 'address', 'contact', 'region'];

export function WorkshopForm({ of, title }: { of: Workshop; title: string }) {
  const act = useAct();
  const kept = useKept<Workshop>('workshop');
  const typed = kept.value ?? of;
  const set = (change: Partial<Workshop>) => kept.edit((now) => ({ ...(now ?? of), ...change }));
  const save = async () => {
    if (await act.run('workshop.name', { ...typed, region: of.region })) kept.clear();
  };
  return (
    <form
      class="paper"
      data-part="workshop"
      onSubmit={(e) => {
        e.preventDefault();
        void save();
      }}
    >
      <h2 class="ph">
        <span>{title}</span>
      </h2>
      <Field label="Maker, as on the label" name="maker" value={typed.maker} set={(maker) => set({ maker })} error={besides(act.error, 'maker')} />
      <Field
        label="Label address"
        name="address"
        value={typed.address}
        set={(address) => set({ address })}
        error={besides(act.error, 'address')}
        hint="A web address, beginning with https:// or http://, and not a postal one: each jar’s QR code leads there. The home store’s own address opens at home, a public one of yours opens anywhere. Left empty, it is the home store’s."
      />
      <Field label="Contact, for who bought a jar" name="contact" value={typed.contact} set={(contact) => set({ contact })} error={besides(act.error, 'contact')} />
      <Trouble error={elsewhere(act.error, fields)} />
      <button type="submit" class="btn" disabled={kept.value === undefined || act.busy}>
        {kept.value === undefined ? 'Kept' : 'Keep'}
      </button>
    </form>
  );
}
