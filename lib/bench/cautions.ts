import { phrases } from '@/lib/platform/words/say';
/** Caution cards. Each names its source, and where local rules stand above it. */
export interface Caution {
  id: string;
  title: string;
  text: string;
  source: string;
}

/** Every card ends with this. */
export const CAUTION_ENDING = "Local rules and the institution's safety officer decide.";

export const CAUTIONS = phrases([
  {
    id: 'dead-birds',
    title: 'Dead birds can carry disease',
    text: 'West Nile virus and others pass by inhalation, contact, and punctures by bone, beak or scalpel. Gloves, covered arms, no food at the bench, wash hands. Keep birds found in numbers or with signs of disease closed and report them first.',
    source: 'USGS National Wildlife Health Center, handling guidelines',
  },
  {
    id: 'aerosol',
    title: 'Keep it out of the air',
    text: 'The risk of avian influenza rises with aerosol. Parrots, pigeons and waterbirds: wet the plumage with water and detergent before opening, work in a cabinet, wear a fitted respirator where psittacosis or influenza is possible.',
    source: 'CDC on avian influenza; NASPHV compendium on psittacosis (second hand)',
  },
  {
    id: 'sharps',
    title: 'Blades, pins and bone ends',
    text: 'Cut away from the other hand. Put scalpels down, never hand them over. Blades and pins into the sharps box. Wash a puncture at once and report it.',
    source: 'OSHA, general guidance (from memory)',
  },
  {
    id: 'dust',
    title: 'Fine absorbent dust',
    text: 'Absorbents and borax raise dust: pour low, work with extraction or a mask, wipe up wet. Keep the dust out of the body cavity if tissue is still to come.',
    source: 'NIOSH, general guidance (from memory); common practice',
  },
  {
    id: 'salmonella',
    title: 'Gut and droppings',
    text: 'Salmonella and others live in the gut. Open stomach and gut over a tray, change gloves after, disinfect the place.',
    source: 'CDC, general guidance (from memory)',
  },
  {
    id: 'liquid-nitrogen',
    title: 'Liquid nitrogen',
    text: 'It expands about 696 times and displaces the air. Work only in a ventilated room, with an oxygen alarm, at 19.5 % oxygen or more; face shield and loose cold gloves; never in a lift with it; vials can burst on warming.',
    source: 'Supplier safety data; OSHA for the limit (from memory)',
  },
  {
    id: 'ethanol',
    title: 'Ethanol burns',
    text: 'No flame, no sparks, lids closed. Store in the cabinet for flammables.',
    source: 'OSHA, general guidance (from memory)',
  },
  {
    id: 'formaldehyde',
    title: 'Formaldehyde',
    text: 'Limits of the air at work: 0.75 ppm over 8 hours, 2 ppm over 15 minutes. Only under extraction, with gloves and eye protection that are made for it. Tissue for DNA comes out before.',
    source: '29 CFR 1910.1048',
  },
  {
    id: 'waste',
    title: 'What is thrown away',
    text: 'A discarded bird is still counted on its permit. Record why, and dispose of it as infectious waste where that is required.',
    source: 'Common practice, no source',
  },
] as const) satisfies readonly Caution[];

export type CautionId = (typeof CAUTIONS)[number]['id'];
