// Phases are told apart by hatching as on a paper chart, and only then by tint: it must read in grey and in dim light.

import type { JSX } from 'preact';

const letters = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'] as const;
type Letter = (typeof letters)[number];

const drawn: Record<Letter, JSX.Element> = {
  A: <path d="M-1 4Q2 1.5 5 4T11 4" class="hatch-line faint" />,
  B: <path d="M-2 12L12 -2M-2 2L2 -2M8 12L12 8" class="hatch-line" />,
  C: <path d="M0 5H10M5 0V10" class="hatch-line" />,
  D: (
    <g class="hatch-dot">
      <circle cx="2.5" cy="2.5" r="1.3" />
      <circle cx="7.5" cy="7.5" r="1" />
    </g>
  ),
  E: <path d="M-2 -2L12 12M-2 8L2 12M8 -2L12 2" class="hatch-line" />,
  F: <path d="M2.5 0V10M7.5 0V10" class="hatch-line faint" />,
  G: <circle cx="5" cy="5" r="2.4" class="hatch-ring" />,
  H: <path d="M0 2L5 7L10 2" class="hatch-line" />,
};

/** The paint of a phase. Letters past H begin again. */
export function hatchOf(phase: string): string {
  const at = phase.charCodeAt(0) - 65;
  const letter = letters[((at % letters.length) + letters.length) % letters.length] ?? 'A';
  return `url(#hatch-${letter})`;
}

/** The patterns, once for the whole page: every jar points at them. */
export function Hatches() {
  return (
    <svg class="defs" width="0" height="0" aria-hidden="true">
      <defs>
        {letters.map((letter) => (
          <pattern key={letter} id={`hatch-${letter}`} width="10" height="10" patternUnits="userSpaceOnUse">
            <rect width="10" height="10" class={`tint-${letter}`} />
            {drawn[letter]}
          </pattern>
        ))}
      </defs>
    </svg>
  );
}
