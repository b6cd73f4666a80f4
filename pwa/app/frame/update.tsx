import { applyUpdate, update } from '../../shell/client';

/** A newer Stillroom waits until someone says so; never while a step is under way. */
export function UpdateLine() {
  if (!update.value) return null;
  return (
    <div class="update" role="status">
      <span>A newer Stillroom is on this phone.</span>
      <button type="button" class="quiet" onClick={applyUpdate}>
        Update
      </button>
    </div>
  );
}
