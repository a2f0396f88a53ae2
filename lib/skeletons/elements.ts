import { phrases, say } from '@/lib/platform/words/say';
import type { Portion, Region, Side } from './words';

/** How many bones stand for the element, on one side where it is paired. */
export interface CountRange {
  min: number;
  max: number;
}

export interface SkeletalElement {
  /** Plain English, singular or plural as the trade says it. */
  name: string;
  /** The anatomical term, after Baumel et al. 1993 (from memory). */
  term: string;
  region: Region;
  paired: boolean;
  count: CountRange;
  /** What the two portions are called where the element may be cut; absent: it goes in one piece. */
  portions?: { proximal: string; distal: string };
  /** Not ossified, or too small to find, in many birds: its absence needs no explanation. */
  variable?: true;
}

const one: CountRange = { min: 1, max: 1 };
const ends = phrases({ proximal: 'proximal part', distal: 'distal part' });

/**
 * The elements of a bird's skeleton that the bone book follows. Names and terms: from memory, after Baumel et al.,
 * Handbook of Avian Anatomy: Nomina Anatomica Avium, 1993. The neck has 10–26 vertebrae (atlas and axis included, our
 * reading), a sclerotic ring 11–16 ossicles (Lima et al., 208 birds of 18 orders); other ranges are from memory and wide.
 */
export const ENGLISH_ELEMENTS = {
  cranium: {
    name: 'skull with upper jaw',
    term: 'Cranium',
    region: 'head',
    paired: false,
    count: one,
    portions: { proximal: 'hind part (braincase)', distal: 'front part (bill)' },
  },
  mandible: {
    name: 'lower jaw',
    term: 'Mandibula',
    region: 'head',
    paired: false,
    count: { min: 1, max: 2 },
    portions: { proximal: 'hind part (joint)', distal: 'front part (tip)' },
  },
  quadrate: { name: 'quadrate', term: 'Os quadratum', region: 'head', paired: true, count: one },
  pterygoid: { name: 'pterygoid', term: 'Os pterygoideum', region: 'head', paired: true, count: one },
  'sclerotic-ring': {
    name: 'sclerotic ring',
    term: 'Anulus ossicularis sclerae',
    region: 'head',
    paired: true,
    count: { min: 11, max: 16 },
  },
  'hyoid-body': {
    name: 'tongue bones, middle',
    term: 'Basihyale, urohyale, os entoglossum',
    region: 'head',
    paired: false,
    count: { min: 1, max: 4 },
  },
  ceratobranchial: {
    name: 'ceratobranchial',
    term: 'Os ceratobranchiale',
    region: 'head',
    paired: true,
    count: one,
  },
  epibranchial: {
    name: 'epibranchial',
    term: 'Os epibranchiale',
    region: 'head',
    paired: true,
    count: one,
  },
  atlas: { name: 'atlas', term: 'Atlas', region: 'back', paired: false, count: one },
  axis: { name: 'axis', term: 'Axis', region: 'back', paired: false, count: one },
  cervicals: {
    name: 'neck vertebrae',
    term: 'Vertebrae cervicales',
    region: 'back',
    paired: false,
    count: { min: 8, max: 24 },
    portions: { proximal: 'head end', distal: 'trunk end' },
  },
  thoracics: {
    name: 'back vertebrae or notarium',
    term: 'Vertebrae thoracicae, notarium',
    region: 'back',
    paired: false,
    count: { min: 1, max: 10 },
  },
  synsacrum: { name: 'synsacrum', term: 'Synsacrum', region: 'back', paired: false, count: one },
  caudals: {
    name: 'free tail vertebrae',
    term: 'Vertebrae caudales liberae',
    region: 'back',
    paired: false,
    count: { min: 4, max: 10 },
    portions: { proximal: 'hip end', distal: 'tail end' },
  },
  pygostyle: { name: 'pygostyle', term: 'Pygostylus', region: 'back', paired: false, count: one },
  'vertebral-ribs': {
    name: 'vertebral ribs',
    term: 'Costae vertebrales',
    region: 'ribs',
    paired: true,
    count: { min: 4, max: 10 },
  },
  'sternal-ribs': {
    name: 'sternal ribs',
    term: 'Costae sternales',
    region: 'ribs',
    paired: true,
    count: { min: 2, max: 9 },
  },
  sternum: { name: 'breastbone', term: 'Sternum', region: 'shoulder', paired: false, count: one },
  furcula: { name: 'wishbone', term: 'Furcula', region: 'shoulder', paired: false, count: one },
  scapula: { name: 'shoulder blade', term: 'Scapula', region: 'shoulder', paired: true, count: one },
  coracoid: { name: 'coracoid', term: 'Os coracoideum', region: 'shoulder', paired: true, count: one },
  humerus: { name: 'humerus', term: 'Humerus', region: 'wing', paired: true, count: one, portions: ends },
  radius: { name: 'radius', term: 'Radius', region: 'wing', paired: true, count: one, portions: ends },
  ulna: { name: 'ulna', term: 'Ulna', region: 'wing', paired: true, count: one, portions: ends },
  radiale: { name: 'radiale', term: 'Os carpi radiale', region: 'wing', paired: true, count: one },
  ulnare: { name: 'ulnare', term: 'Os carpi ulnare', region: 'wing', paired: true, count: one },
  carpometacarpus: {
    name: 'carpometacarpus',
    term: 'Carpometacarpus',
    region: 'wing',
    paired: true,
    count: one,
    portions: ends,
  },
  'alular-digit': {
    name: 'alular digit',
    term: 'Digitus alulae',
    region: 'wing',
    paired: true,
    count: { min: 1, max: 2 },
  },
  'major-digit': {
    name: 'major digit',
    term: 'Digitus major',
    region: 'wing',
    paired: true,
    count: { min: 2, max: 3 },
  },
  'minor-digit': {
    name: 'minor digit',
    term: 'Digitus minor',
    region: 'wing',
    paired: true,
    count: { min: 1, max: 2 },
  },
  'hip-bone': {
    name: 'hip bone',
    term: 'Os coxae (ilium, ischium, pubis)',
    region: 'hip',
    paired: true,
    count: one,
  },
  femur: { name: 'femur', term: 'Femur', region: 'leg', paired: true, count: one, portions: ends },
  patella: {
    name: 'kneecap',
    term: 'Patella',
    region: 'leg',
    paired: true,
    count: { min: 0, max: 1 },
    variable: true,
  },
  tibiotarsus: {
    name: 'tibiotarsus',
    term: 'Tibiotarsus',
    region: 'leg',
    paired: true,
    count: one,
    portions: ends,
  },
  fibula: { name: 'fibula', term: 'Fibula', region: 'leg', paired: true, count: one, portions: ends },
  tarsometatarsus: {
    name: 'tarsometatarsus',
    term: 'Tarsometatarsus',
    region: 'leg',
    paired: true,
    count: one,
    portions: ends,
  },
  'metatarsal-1': {
    name: 'first metatarsal',
    term: 'Os metatarsale I',
    region: 'leg',
    paired: true,
    count: one,
  },
  'toe-1': {
    name: 'hind toe',
    term: 'Digitus I (hallux)',
    region: 'leg',
    paired: true,
    count: { min: 2, max: 2 },
  },
  'toe-2': {
    name: 'second toe',
    term: 'Digitus II',
    region: 'leg',
    paired: true,
    count: { min: 3, max: 3 },
  },
  'toe-3': {
    name: 'third toe',
    term: 'Digitus III',
    region: 'leg',
    paired: true,
    count: { min: 4, max: 4 },
  },
  'toe-4': {
    name: 'fourth toe',
    term: 'Digitus IV',
    region: 'leg',
    paired: true,
    count: { min: 5, max: 5 },
  },
} as const satisfies Record<string, SkeletalElement>;

/** The same with their names and parts in the language of the reader. */
export const ELEMENTS = phrases(ENGLISH_ELEMENTS, ['name']);

export type ElementId = keyof typeof ELEMENTS;

export const ELEMENT_IDS = Object.keys(ELEMENTS) as [ElementId, ...ElementId[]];

/** The element's data under the general type, so that optional fields can be asked for. */
export const elementOf = (id: ElementId): SkeletalElement => ELEMENTS[id];

/** The sides an element has: both, or unpaired. */
export const sidesOf = (id: ElementId): readonly Side[] =>
  ELEMENTS[id].paired ? ['left', 'right'] : ['unpaired'];

/** Whether an element may stand in the book in two portions. */
export const isDivisible = (id: ElementId): boolean => elementOf(id).portions !== undefined;

/** 'left humerus', 'breastbone'. */
export const elementName = (id: ElementId, side: Side): string =>
  side === 'unpaired'
    ? ELEMENTS[id].name
    : side === 'left'
      ? say('left {bone}', { bone: ELEMENTS[id].name })
      : say('right {bone}', { bone: ELEMENTS[id].name });

/** 'whole', or the element's own word for one of its two portions. */
export function portionName(id: ElementId, portion: Portion): string {
  if (portion === 'whole') return say('whole');
  return elementOf(id).portions?.[portion] ?? portion;
}
