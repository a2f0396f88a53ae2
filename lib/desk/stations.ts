import type { CautionId } from '@/lib/bench/public';
import { phrases } from '@/lib/platform/words/say';

/** What of the bird that is followed belongs to a station: a dot of its life line, or what was made of it. */
export type StationFacts = { stage: string } | { kinds: readonly string[] } | null;

export type Station = {
  id: string;
  title: string;
  text: string;
  facts: StationFacts;
  /** Ids of the table of places: where this is done. */
  places: readonly string[];
  cautions: readonly CautionId[];
};

/**
 * The stations of a bird's way from find to shelf and beyond, as the tour for newcomers tells them. The order of work is
 * common practice, no source; a lab's own styles and procedures stand above it.
 */
export const STATIONS: readonly Station[] = phrases([
  {
    id: 'found',
    title: 'It is found',
    text: 'A bird dies at a window, on a road, in a storm. Whoever finds it writes down where, when and how before it goes into a bag: without a place and a day it is of little use to anybody. Furcula takes the place as coordinates with their uncertainty, and keeps the finder’s own words.',
    facts: { stage: 'salvage' },
    places: ['log', 'salvage', 'slip'],
    cautions: ['dead-birds'],
  },
  {
    id: 'covered',
    title: 'May it be kept?',
    text: 'Most wild birds may be kept only under a permit. The find is held against every permit and rule that is entered here, and each reason names its clause. What is not clear is for the permit officer to rule on; a bird with a band, of a listed species or with signs of disease is held until somebody lifts the hold.',
    facts: null,
    places: ['triage', 'permits', 'law'],
    cautions: [],
  },
  {
    id: 'accessioned',
    title: 'It is accessioned',
    text: 'The registrar takes accepted birds into the collection under an accession number, with their papers: from then on the institution answers for them.',
    facts: { stage: 'accessions' },
    places: ['accession', 'accessions'],
    cautions: [],
  },
  {
    id: 'queued',
    title: 'It waits in the freezer',
    text: 'Somebody at the bench chooses the preparation: study skin, skin with partial skeleton, skeleton, spread wing. The queue ranks what waits by condition, rarity and requests; open a figure to see why. Who takes a bird has it in their name and sees in which freezer it lies.',
    facts: { stage: 'queue' },
    places: ['take', 'queue', 'plans'],
    cautions: [],
  },
  {
    id: 'prepared',
    title: 'It is prepared',
    text: 'Thaw it only until it can be worked. Measure first, then open: the body comes out of the skin, the sex is looked for inside, stomach, fat, moult and cause of death are noted as they are seen. Say or type each value; it is kept at once, checked against others of its kind, and a correction keeps what it corrects.',
    facts: { stage: 'bench' },
    places: ['bench', 'lab'],
    cautions: ['aerosol', 'sharps', 'salmonella', 'dust', 'waste'],
  },
  {
    id: 'tissues',
    title: 'Tissue goes into vials',
    text: 'Muscle, liver and heart are taken while the bird is cold and go into labelled vials, each with its own number and position in a box. Every use later takes its amount away, and the vial tells who used it for what.',
    facts: { kinds: ['vial'] },
    places: ['tissues', 'print-labels'],
    cautions: ['liquid-nitrogen', 'ethanol'],
  },
  {
    id: 'skeletons',
    title: 'Bones are cleaned',
    text: 'What is left of the carcass is cleaned by beetles, in water or by hand, dried, frozen against pests and counted against the bone book: where each bone of this bird is, and none of them twice. Each step of a cleaning procedure carries its own cautions.',
    facts: { kinds: ['skeleton'] },
    places: ['skeletons', 'procedures'],
    cautions: ['dead-birds'],
  },
  {
    id: 'skins',
    title: 'The skin dries',
    text: 'Filled, sewn, tagged and pinned, the skin dries for weeks and is frozen against pests before it may come near other skins.',
    facts: { kinds: ['skin', 'wing'] },
    places: ['skins'],
    cautions: ['sharps'],
  },
  {
    id: 'reviewed',
    title: 'A curator reads it',
    text: 'Nobody approves their own work. The curator sees the values beside those of other birds of the kind, returns the record with remarks, or approves it. An approved record is locked; later changes are amendments with a reason.',
    facts: { stage: 'review' },
    places: ['review-next', 'review'],
    cautions: [],
  },
  {
    id: 'catalogued',
    title: 'It has its number',
    text: 'With the approval it gets its catalogue number and can be found by everybody. Exact places of sensitive species are shown only to those who need them.',
    facts: { stage: 'catalogue' },
    places: ['catalogue', 'numbers'],
    cautions: [],
  },
  {
    id: 'shelved',
    title: 'It stands on the shelf',
    text: 'Skin, bones and vials have their places in drawers, boxes and freezers. Scan any label on any page to open what carries it; a count holds the shelf against the book.',
    facts: { kinds: ['skin', 'skeleton', 'vial', 'wing'] },
    places: ['storage', 'count', 'find-room'],
    cautions: [],
  },
  {
    id: 'used',
    title: 'It is lent and reported',
    text: 'Loans go out with a list, a day on which they are due and the papers that a border asks for. Once a year each permit is answered with a salvage report in which this bird is one line; its signed text can be proved for ever.',
    facts: null,
    places: ['loans', 'reports', 'export'],
    cautions: [],
  },
]);
