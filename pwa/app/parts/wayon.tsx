import { Go } from './link';

/** Leads to what happened to this phone, and to the key by which it goes on. */
export function WayOn() {
  return (
    <span class="acts">
      <Go to="/settings/again" class="quiet">
        What happened, and how to go on
      </Go>
    </span>
  );
}
