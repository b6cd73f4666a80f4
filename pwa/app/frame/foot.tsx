// The foot of every screen: the lid that opens the scanner, and the places of the app.

import { place } from '../route';
import { Go } from '../parts/link';

const places = [
  { to: '/', text: 'Today', at: [undefined, 'settings'] },
  { to: '/formulas', text: 'Formulas', at: ['formulas'] },
  { to: '/make', text: 'Make', at: ['make', 'batches'] },
  { to: '/shelf', text: 'Shelf', at: ['shelf', 'j'] },
  { to: '/stall', text: 'Stall', at: ['stall'] },
];

export function Lid() {
  return (
    <Go to="/scan" class="lid">
      Scan a jar or a lot
    </Go>
  );
}

export function Tabs() {
  const first = place.value.parts[0];
  return (
    <nav class="tabs" aria-label="Places">
      {places.map((p) => (
        <Go key={p.to} to={p.to} current={p.at.includes(first)}>
          {p.text}
        </Go>
      ))}
    </nav>
  );
}
