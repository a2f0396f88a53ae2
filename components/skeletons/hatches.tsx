import type { ReactNode } from 'react';
import { PLACES, type Place } from '@/lib/skeletons/words';
import styles from './bone-plate.module.css';

/** The hatch of each place: its tile and what is drawn on it, so that print and colour-blind eyes can tell. */
const HATCHES: Record<Place, { size: number; turn?: number; ink: ReactNode }> = {
  skin: { size: 4.5, turn: 45, ink: <path d="M0 0V4.5" /> },
  skeleton: {
    size: 7,
    ink: (
      <>
        <circle cx="1.75" cy="1.75" r="0.65" />
        <circle cx="5.25" cy="5.25" r="0.65" />
      </>
    ),
  },
  wing: { size: 4.5, turn: -45, ink: <path d="M0 0V4.5" /> },
  fluid: { size: 6, ink: <path d="M0 2Q1.5 0.4 3 2T6 2M0 5Q1.5 3.4 3 5T6 5" /> },
  other: { size: 4, ink: <path d="M1 0V4" /> },
  discarded: { size: 5, turn: 45, ink: <path d="M0 0V5M0 0H5" /> },
  lost: { size: 7, ink: <path d="M1.5 3.5H5.5M3.5 1.5V5.5" /> },
  consumed: { size: 6, ink: <circle cx="3" cy="3" r="1.6" /> },
};

/** A document-wide id made of React's, safe inside url(#…). */
export const hatchId = (prefix: string, place: Place): string => `${prefix}-hatch-${place}`;

/** The patterns of one picture; `prefix` keeps two pictures on a page apart. */
export function HatchDefs({ prefix }: { prefix: string }) {
  return PLACES.map((place) => {
    const { size, turn = 0, ink } = HATCHES[place];
    return (
      <pattern
        key={place}
        id={hatchId(prefix, place)}
        width={size}
        height={size}
        patternUnits="userSpaceOnUse"
        patternTransform={`rotate(${turn})`}
      >
        <g className={styles.hatch} data-place={place}>
          {ink}
        </g>
      </pattern>
    );
  });
}
