import { CAUTION_IDS, CAUTION_TITLES, type CautionId } from '@/lib/bench/caution-titles';
import { phrases } from '@/lib/platform/words/say';

/** A caution card: it names its source, and where local rules stand above it. */
export interface Caution {
  id: CautionId;
  title: string;
  text: string;
  source: string;
}

/** Every card ends with this. */
export const CAUTION_ENDING = "Local rules and the institution's safety officer decide.";

const TEXTS: Readonly<Record<CautionId, { text: string; source: string }>> = phrases({
  'dead-birds': {
    text: 'West Nile virus and others pass by inhalation, contact, and punctures by bone, beak or scalpel. Gloves, covered arms, no food at the bench, wash hands. Keep birds found in numbers or with signs of disease closed and report them first.',
    source: 'USGS National Wildlife Health Center, handling guidelines',
  },
  aerosol: {
    text: 'The risk of avian influenza rises with aerosol. Parrots, pigeons and waterbirds: wet the plumage with water and detergent before opening, work in a cabinet, wear a fitted respirator where psittacosis or influenza is possible.',
    source: 'CDC on avian influenza; NASPHV compendium on psittacosis (second hand)',
  },
  sharps: {
    text: 'Cut away from the other hand. Put scalpels down, never hand them over. Blades and pins into the sharps box. Wash a puncture at once and report it.',
    source: 'OSHA, general guidance (from memory)',
  },
  dust: {
    text: 'Absorbents and borax raise dust: pour low, work with extraction or a mask, wipe up wet. Keep the dust out of the body cavity if tissue is still to come.',
    source: 'NIOSH, general guidance (from memory); common practice',
  },
  salmonella: {
    text: 'Salmonella and others live in the gut. Open stomach and gut over a tray, change gloves after, disinfect the place.',
    source: 'CDC, general guidance (from memory)',
  },
  'liquid-nitrogen': {
    text: 'It expands about 696 times and displaces the air. Work only in a ventilated room, with an oxygen alarm, at 19.5 % oxygen or more; face shield and loose cold gloves; never in a lift with it; vials can burst on warming.',
    source: 'Supplier safety data; OSHA for the limit (from memory)',
  },
  ethanol: {
    text: 'No flame, no sparks, lids closed. Store in the cabinet for flammables.',
    source: 'OSHA, general guidance (from memory)',
  },
  formaldehyde: {
    text: 'Limits of the air at work: 0.75 ppm over 8 hours, 2 ppm over 15 minutes. Only under extraction, with gloves and eye protection that are made for it. Tissue for DNA comes out before.',
    source: '29 CFR 1910.1048',
  },
  waste: {
    text: 'A discarded bird is still counted on its permit. Record why, and dispose of it as infectious waste where that is required.',
    source: 'Common practice, no source',
  },
});

export const CAUTIONS: readonly Caution[] = CAUTION_IDS.map((id) => ({
  id,
  get title() {
    return CAUTION_TITLES[id];
  },
  get text() {
    return TEXTS[id].text;
  },
  source: TEXTS[id].source,
}));
