// Figures that one pad writes: the slot that is pressed is the one being written.

interface SlotsProps<K extends string> {
  slots: readonly { at: K; label: string; unit: string }[];
  at: K;
  value: (at: K) => string;
  choose: (at: K) => void;
  /** words beside the last slot */
  says?: string;
}

export function Slots<K extends string>({ slots, at, value, choose, says }: SlotsProps<K>) {
  return (
    <div class="slots">
      {slots.map((slot) => (
        <button key={slot.at} type="button" class="slot" aria-pressed={at === slot.at} data-slot={slot.at} onClick={() => choose(slot.at)}>
          <small>{slot.label}</small>
          <b class="num">
            {value(slot.at) || '…'} <span class="unit">{slot.unit}</span>
          </b>
        </button>
      ))}
      {says && (
        <p class="slot-says" aria-live="polite">
          {says}
        </p>
      )}
    </div>
  );
}
