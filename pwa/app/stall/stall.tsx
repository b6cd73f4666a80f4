// The stall: what was taken in, a tile for each product, two taps for a sale, and everything kept without a network.

import { useState } from 'preact/hooks';
import { link } from '../../shell/client';
import type { Stall } from '../../shell/contract-stall';
import { useAct } from '../act';
import { useDropGuard } from '../bench/drop';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Go } from '../parts/link';
import { Fig } from '../parts/figure';
import { Trouble } from '../parts/trouble';
import { ShelfRow } from '../record/shelfrow';
import { go } from '../route';
import { tilesOf } from './split';
import { SaleTile } from './tile';

export function StallScreen() {
  const answer = useView('stall', { place: '' });
  if (!answer) return <NotThere name="stall" title="Stall" />;
  if (!answer.ok) return <NotThere name="stall" title="Stall" error={answer.error} />;
  return <Table of={answer.value} />;
}

function Table({ of }: { of: Stall }) {
  const act = useAct();
  const guard = useDropGuard();
  const [open, setOpen] = useState('');
  const tiles = tilesOf(of.tiles);
  const undo = () => void act.run('stall.undo', { entry: of.undo, reason: 'undone at the stall' });
  return (
    <Screen
      name="stall"
      named="Stall"
      look="stall"
      title={
        <h1>
          <span class="num" data-part="taken">
            <Fig of={{ text: of.taken || '0.00', sum: of.takenSum }} label="Taken" />
          </span>{' '}
          <span class="unit">taken</span>
        </h1>
      }
      sub={
        <>
          {[of.name, of.takenSays].filter(Boolean).join(' · ')}
          {!link.value.online && <span data-part="calm">. No home store in reach. Everything is kept here until you are home.</span>}
        </>
      }
      foot={
        tiles.length > 0 && (
          <>
            <Trouble error={act.error} />
            <div class="two" {...guard}>
              <button type="button" class="btn second" disabled={!of.undo || act.busy} onClick={undo}>
                Undo last
              </button>
              <button type="button" class="btn" onClick={() => go('/stall/count')}>
                Count
              </button>
            </div>
          </>
        )
      }
    >
      <div class="columns">
        <div {...guard} data-part="tiles">
          {tiles.map((t) => {
            const id = t.product + t.batch;
            return <SaleTile key={id} of={t} place={of.place} act={act} open={open === id} toggle={() => setOpen(open === id ? '' : id)} />;
          })}
          {tiles.length === 0 && <p class="lead">No jar is at the stall. Take released jars out before you leave; selling then needs no network.</p>}
          <div class={tiles.length === 0 ? 'first' : 'two pack'}>
            <Go to="/stall/out" class={tiles.length === 0 ? 'btn' : 'btn second low'}>
              Take jars out
            </Go>
            {tiles.length > 0 && (
              <Go to="/stall/back" class="btn second low">
                Bring back
              </Go>
            )}
          </div>
        </div>
        <section data-part="sales">
          <h2 class="ph">
            <span>today</span>
          </h2>
          {of.says && <p class="places">{of.says}</p>}
          {of.rows.map((row) => (
            <ShelfRow key={row.entry} of={row} />
          ))}
          {of.rows.length === 0 && <p class="faint">Nothing sold yet.</p>}
        </section>
      </div>
    </Screen>
  );
}
