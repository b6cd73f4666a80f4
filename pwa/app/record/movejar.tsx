// One jar to another place, from its own page: one touch, and it can be put back.

import type { Jar } from '../../shell/contract';
import { command } from '../../shell/client';
import { useAct } from '../act';
import { offerUndo } from '../parts/undo';
import { Trouble } from '../parts/trouble';

const places = ['stall', 'home', 'sold', 'given', 'kept back', 'discarded'];
const says: Record<string, string> = { stall: 'to the stall', home: 'home' };

export function MoveJar({ of }: { of: Jar }) {
  const act = useAct();
  const { code, place, batch } = of;
  const batchKey = batch.row.key;
  const mayGo = (to: string) => to !== place && (to === 'given' ? batch.canGive : !batch.barred || (to !== 'stall' && to !== 'sold'));
  const move = async (to: string) => {
    if (to === 'sold') {
      const sale = await act.run('stall.sell', { place, product: batch.row.name, batch: batchKey, jar: code, count: '1', price: '' });
      if (sale) offerUndo(`${of.shown} is sold`, () => void command('stall.undo', { entry: sale.entry, reason: 'undone at once' }));
      return;
    }
    const moved = await act.run('jars.move', { batch: batchKey, from: place, to, count: '', jars: code });
    if (moved) offerUndo(`${of.shown}: ${says[to] ?? to}`, () => void command('stall.undo', { entry: moved.entry, reason: 'undone at once' }));
  };
  return (
    <section data-part="move-jar">
      <h2 class="ph">
        <span>this jar goes</span>
      </h2>
      <div class="options go-to">
        {places.filter(mayGo).map((to) => (
          <button key={to} type="button" class="option" disabled={act.busy} onClick={() => void move(to)}>
            {says[to] ?? to}
          </button>
        ))}
      </div>
      <Trouble error={act.error} />
    </section>
  );
}
