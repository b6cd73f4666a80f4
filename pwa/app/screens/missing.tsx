import { Screen } from '../frame/screen';
import { Go } from '../parts/link';

export function Missing() {
  return (
    <Screen name="missing" title="No such page">
      <p>The book has no page at this address. Nothing was changed.</p>
      <Go to="/" class="btn second">
        To Today
      </Go>
    </Screen>
  );
}
