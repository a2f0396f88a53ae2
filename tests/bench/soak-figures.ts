import { slopePerMinute } from './load';

/** How often a soak looks at the server. */
export const EVERY_S = 10;

/** What a server held every ten seconds while people worked. */
export type SoakSample = { atS: number; residentMb: number; openFiles: number; connections: number };
export type Soak = {
  minutes: number;
  users: number;
  count: number;
  failed: number;
  perSecond: number;
  samples: SoakSample[];
};
/** The first third of a soak fills caches; what rises after it may never end. */
export type SoakSlopes = { residentMb: number; openFiles: number; connections: number };

export function slopesOf({ samples }: Pick<Soak, 'samples'>): SoakSlopes {
  const settled = samples.slice(Math.floor(samples.length / 3));
  const slope = (key: keyof SoakSlopes) =>
    slopePerMinute(
      settled.map((sample) => sample[key]),
      EVERY_S,
    );
  return {
    residentMb: slope('residentMb'),
    openFiles: slope('openFiles'),
    connections: slope('connections'),
  };
}
