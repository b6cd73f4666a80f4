const stops = ['held', 'discarded'];

/** The state of a batch, as a word; held and discarded stand out, and not by colour alone. */
export function StateWord({ state }: { state: string }) {
  return (
    <span class={stops.includes(state) ? 'state-word stop' : 'state-word'} data-state={state}>
      {stops.includes(state) && <i class="word">stop</i>} {state}
    </span>
  );
}
