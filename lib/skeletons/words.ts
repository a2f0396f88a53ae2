import { phrases } from '@/lib/platform/words/say';
/** The words of the bone book, in the order that people meet them. */
export const SIDES = ['left', 'right', 'unpaired'] as const;
export type Side = (typeof SIDES)[number];

export const PORTIONS = ['whole', 'proximal', 'distal'] as const;
export type Portion = (typeof PORTIONS)[number];

export const ELEMENT_STATES = ['whole', 'broken', 'missing'] as const;
export type ElementState = (typeof ELEMENT_STATES)[number];

export const PLACES = [
  'skin',
  'skeleton',
  'wing',
  'fluid',
  'other',
  'discarded',
  'lost',
  'consumed',
] as const;
export type Place = (typeof PLACES)[number];

export const REGIONS = ['head', 'back', 'ribs', 'shoulder', 'wing', 'hip', 'leg'] as const;
export type Region = (typeof REGIONS)[number];

export const REGION_NAMES: Record<Region, string> = phrases({
  head: 'head',
  back: 'neck, back and tail',
  ribs: 'ribs',
  shoulder: 'breast and shoulder',
  wing: 'wing',
  hip: 'hip',
  leg: 'leg and foot',
});
