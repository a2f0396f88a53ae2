import { phrases } from '@/lib/platform/words/say';

/** What each caution card is about. The cards are in cautions: a page brings them where they are read. */
export const CAUTION_TITLES = phrases({
  'dead-birds': 'Dead birds can carry disease',
  aerosol: 'Keep it out of the air',
  sharps: 'Blades, pins and bone ends',
  dust: 'Fine absorbent dust',
  salmonella: 'Gut and droppings',
  'liquid-nitrogen': 'Liquid nitrogen',
  ethanol: 'Ethanol burns',
  formaldehyde: 'Formaldehyde',
  waste: 'What is thrown away',
});

export type CautionId = keyof typeof CAUTION_TITLES;
export const CAUTION_IDS = Object.keys(CAUTION_TITLES) as [CautionId, ...CautionId[]];
