import { z } from 'zod';

/** The stages of the rail, in the order of a bird's life. */
export const STAGE_IDS = [
  'permits',
  'salvage',
  'accessions',
  'queue',
  'bench',
  'tissues',
  'skeletons',
  'skins',
  'catalogue',
  'loans',
  'reports',
] as const;
export type StageId = (typeof STAGE_IDS)[number];

/** How many records wait for somebody at each stage. */
export const waitingCounts = z.record(z.enum(STAGE_IDS), z.number().int());
export type WaitingCounts = z.infer<typeof waitingCounts>;
