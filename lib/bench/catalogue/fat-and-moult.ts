import { choice, codeField, digitsField, type Scale, scoreField } from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

const EURING = 'EURING Exchange Code 2020';
const scale = (id: string, label: string, max: number, source: string, ...say: string[]): Scale => ({
  id,
  label,
  max,
  source,
  say,
});

const AMOUNTS = [
  choice('none', 'None'),
  choice('trace', 'Trace', 'a trace'),
  choice('light', 'Light', 'slight'),
  choice('moderate', 'Moderate', 'medium'),
  choice('heavy', 'Heavy'),
] as const;

const MOULT_SCORES =
  'One digit a feather: 0 old, 1 missing or pin, 2 up to a third grown, 3 a third to two thirds, 4 more with sheath, 5 new.';

/** Fat, muscle, moult and brood patch: scores are kept together with their scale. */
export const fatAndMoultFields = phrases({
  fat: scoreField({
    label: 'Fat',
    section: 'fat-and-moult',
    say: ['fat', 'fat score'],
    scales: [
      scale(
        'helms-drury-1960',
        'Helms & Drury 1960, 0–5',
        5,
        'Helms & Drury 1960 (from memory)',
        'helms and drury',
        'helms drury',
        'helms',
      ),
      scale('kaiser-1993', 'Kaiser 1993, 0–8', 8, 'Kaiser 1993 (from memory)', 'kaiser'),
      scale('busse', 'Busse, 0–8', 8, 'Busse (from memory)', 'busse'),
      scale('maps', 'MAPS, 0–7', 7, 'MAPS protocol (from memory)', 'maps'),
      scale(
        'words',
        'Words: none, trace, light, moderate, heavy, very heavy',
        5,
        'Common practice, no source',
        'in words',
        'words',
      ),
    ],
    help: {
      what: 'Fat under the skin, by a named scale.',
      how: 'Several scales exist and their figures differ: say "fat two on Kaiser", set the lab\'s scale once, or use words ("fat moderate").',
      source: 'Helms & Drury 1960; Kaiser 1993; Busse; MAPS (from memory)',
    },
  }),
  pectoralMuscle: scoreField({
    label: 'Pectoral muscle',
    section: 'fat-and-moult',
    say: ['pectoral muscle', 'pectoral', 'breast muscle', 'pectorals'],
    scales: [scale('euring-2020', 'EURING 2020, 0–3', 3, EURING, 'euring')],
    help: {
      what: 'Shape of the breast muscle beside the keel.',
      how: '0 keel sharp, muscle sunken; 1 keel easily felt; 2 keel just felt; 3 keel hard to feel, muscle full.',
      source: EURING,
    },
  }),
  broodPatch: scoreField({
    label: 'Brood patch',
    section: 'fat-and-moult',
    say: ['brood patch', 'brood patch score'],
    scales: [
      scale('euring-2020', 'EURING 2020, 0–5', 5, EURING, 'euring'),
      scale('maps', 'MAPS, 0–5', 5, 'MAPS protocol (from memory)', 'maps'),
    ],
    help: {
      what: 'Bare, swollen skin of the belly in brooding birds.',
      how: 'Look before skinning. Say the scale, or set the lab\'s scale once. "No brood patch" is 0.',
      source: EURING,
    },
  }),
  moult: codeField({
    label: 'Moult',
    section: 'fat-and-moult',
    say: ['moult', 'molt'],
    choices: [...AMOUNTS],
    help: {
      what: 'Growing feathers anywhere, at a glance.',
      how: 'From inside the skin growing feathers show as dark pins. "No moult" means that none were found.',
      source: 'Common practice, no source',
    },
  }),
  bodyMoult: codeField({
    label: 'Body moult',
    section: 'fat-and-moult',
    say: ['body moult', 'body molt', 'moult on body'],
    choices: [...AMOUNTS],
    help: {
      what: 'How much of the body plumage is growing.',
      how: 'Seen from inside the skin.',
      source: 'Common practice, no source',
    },
  }),
  tailMoult: codeField({
    label: 'Tail moult',
    section: 'fat-and-moult',
    say: ['tail moult', 'tail molt'],
    choices: [...AMOUNTS],
    help: {
      what: 'How much of the tail is growing.',
      how: 'Check the bases of the tail feathers.',
      source: 'Common practice, no source',
    },
  }),
  primaryMoult: digitsField({
    label: 'Primary moult scores',
    section: 'fat-and-moult',
    length: { min: 9, max: 12 },
    say: ['primaries', 'primary moult', 'primary molt', 'primary scores'],
    help: {
      what: 'State of each primary, innermost first; the sum is computed.',
      how: MOULT_SCORES,
      source: `${EURING}; Ginn & Melville 1983 for the sum (from memory)`,
    },
  }),
  secondaryMoult: digitsField({
    label: 'Secondary moult scores',
    section: 'fat-and-moult',
    length: { min: 6, max: 40 },
    say: ['secondaries', 'secondary moult', 'secondary molt', 'secondary scores'],
    help: { what: 'State of each secondary, outermost first.', how: MOULT_SCORES, source: EURING },
  }),
  tailFeatherMoult: digitsField({
    label: 'Tail feather moult scores',
    section: 'fat-and-moult',
    length: { min: 4, max: 20 },
    say: ['tail feathers', 'rectrices', 'tail scores'],
    help: { what: 'State of each tail feather, central pair first.', how: MOULT_SCORES, source: EURING },
  }),
});
