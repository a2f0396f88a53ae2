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

/** Fat, muscle, moult and brood patch: scores are kept together with their scale. */
export const fatAndMoultFields = phrases({
  fat: scoreField({
    label: 'Fat',
    section: 'fat-and-moult',
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
  }),
  pectoralMuscle: scoreField({
    label: 'Pectoral muscle',
    section: 'fat-and-moult',
    scales: [scale('euring-2020', 'EURING 2020, 0–3', 3, EURING, 'euring')],
  }),
  broodPatch: scoreField({
    label: 'Brood patch',
    section: 'fat-and-moult',
    scales: [
      scale('euring-2020', 'EURING 2020, 0–5', 5, EURING, 'euring'),
      scale('maps', 'MAPS, 0–5', 5, 'MAPS protocol (from memory)', 'maps'),
    ],
  }),
  moult: codeField({
    label: 'Moult',
    section: 'fat-and-moult',
    choices: [...AMOUNTS],
  }),
  bodyMoult: codeField({
    label: 'Body moult',
    section: 'fat-and-moult',
    choices: [...AMOUNTS],
  }),
  tailMoult: codeField({
    label: 'Tail moult',
    section: 'fat-and-moult',
    choices: [...AMOUNTS],
  }),
  primaryMoult: digitsField({
    label: 'Primary moult scores',
    section: 'fat-and-moult',
    length: { min: 9, max: 12 },
  }),
  secondaryMoult: digitsField({
    label: 'Secondary moult scores',
    section: 'fat-and-moult',
    length: { min: 6, max: 40 },
  }),
  tailFeatherMoult: digitsField({
    label: 'Tail feather moult scores',
    section: 'fat-and-moult',
    length: { min: 4, max: 20 },
  }),
});
