// The invented workshop says that it is invented, and goes for good with a second touch in the same place.

import { useState } from 'preact/hooks';
import { useAct } from '../act';
import { Trouble } from '../parts/trouble';

export function DemoNote() {
  const act = useAct();
  const [sure, setSure] = useState(false);
  return (
    <div role="note" class="note note-note demo" data-part="demo">
      <i class="word">note</i> This is a demo: an invented maker, invented batches. Nothing in it is for sale.
      {sure && <span class="do">It goes for good, and what you wrote yourself stays.</span>}
      <span class="acts">
        <button
          type="button"
          class={sure ? 'quiet stop' : 'quiet'}
          disabled={act.busy}
          onClick={() => {
            if (sure) void act.run('demo.remove', {});
            else setSure(true);
          }}
        >
          {sure ? 'Yes, take it out' : 'Take the demo out'}
        </button>
        {sure && (
          <button type="button" class="quiet" onClick={() => setSure(false)}>
            Leave it
          </button>
        )}
      </span>
      <Trouble error={act.error} />
    </div>
  );
}
