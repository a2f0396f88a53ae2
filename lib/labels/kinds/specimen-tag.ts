import { z } from 'zod';
import type { Span } from '@/lib/platform/pdf-text';
import { codeAt, joinPresent, ruleAt, textAt } from '../elements';
import type { LabelElement, LabelSize } from '../schema';
import { span } from '../text';

const note = z.string().trim().max(300).nullable();

/**
 * What stays tied to a skin. The label minimum is from memory (Van Tyne 1952; Winker 2000): number, collector,
 * preparator, date, locality and coordinates, sex with gonads, mass, skull or bursa, fat, moult, soft parts,
 * stomach, cause of death.
 */
export const specimenTagSchema = z.object({
  institution: z.string().trim().min(1).max(80),
  number: z.string().trim().min(1).max(40),
  suffix: z.string().max(12).nullable(),
  preparationNumber: z.string().max(40).nullable(),
  scientificName: z.string().trim().min(1).max(120),
  commonName: z.string().max(120).nullable(),
  sex: z.enum(['female', 'male', 'undetermined']),
  gonads: note,
  collector: note,
  preparator: note,
  /** As the record has it, an interval included. */
  date: note,
  locality: note,
  coordinates: note,
  massG: z.number().positive().nullable(),
  skull: note,
  bursa: note,
  /** With the scale it is scored by. */
  fat: note,
  moult: note,
  softParts: note,
  stomach: note,
  causeOfDeath: note,
});
export type SpecimenTag = z.infer<typeof specimenTagSchema>;

export const sexSigns: Record<SpecimenTag['sex'], string> = {
  female: '♀',
  male: '♂',
  undetermined: 'sex undetermined',
};

const minimum: [name: string, isThere: (tag: SpecimenTag) => boolean][] = [
  ['collector', (tag) => tag.collector !== null],
  ['preparator', (tag) => tag.preparator !== null],
  ['date', (tag) => tag.date !== null],
  ['locality', (tag) => tag.locality !== null],
  ['coordinates', (tag) => tag.coordinates !== null],
  ['gonads', (tag) => tag.gonads !== null],
  ['mass', (tag) => tag.massG !== null],
  ['skull or bursa', (tag) => tag.skull !== null || tag.bursa !== null],
  ['fat', (tag) => tag.fat !== null],
  ['moult', (tag) => tag.moult !== null],
  ['soft parts', (tag) => tag.softParts !== null],
  ['stomach', (tag) => tag.stomach !== null],
  ['cause of death', (tag) => tag.causeOfDeath !== null],
];

/** Which facts of the label minimum a tag lacks; the page names them before printing. */
export function listMissingTagFacts(tag: SpecimenTag): string[] {
  return minimum.filter(([, isThere]) => !isThere(tag)).map(([name]) => name);
}

/** A tag folded along the middle: front above, back below. */
export function layOutSpecimenTag(tag: SpecimenTag, size: LabelSize): LabelElement[] {
  const half = size.heightMm / 2;
  const pad = 1.5;
  // The string goes through the left end; the code stands at the right.
  const left = 8;
  const codeMm = Math.min(half - 2 * pad, 12);
  const textMm = size.widthMm - left - codeMm - 2 * pad;
  const headMm = 5;
  const nameMm = 4.2;
  const number = joinPresent([tag.number, tag.suffix], '-');
  const name: Span[] = [span(tag.scientificName, 'serif-italic')];
  if (tag.commonName) name.push(span(` · ${tag.commonName}`));
  const front: Span[][] = [
    [span(joinPresent([tag.locality, tag.coordinates]))],
    [
      span(
        joinPresent([
          tag.date,
          tag.collector && `coll. ${tag.collector}`,
          tag.preparator && joinPresent([`prep. ${tag.preparator}`, tag.preparationNumber], ' '),
        ]),
      ),
    ],
  ];
  const back = joinPresent([
    joinPresent([sexSigns[tag.sex], tag.gonads], ' '),
    tag.massG === null ? null : `${tag.massG} g`,
    tag.skull && `skull ${tag.skull}`,
    tag.bursa && `bursa ${tag.bursa}`,
    tag.fat && `fat ${tag.fat}`,
    tag.moult && `moult ${tag.moult}`,
    tag.softParts,
    tag.stomach && `stomach ${tag.stomach}`,
    tag.causeOfDeath,
  ]);
  const small = { sizePt: 7, leastSizePt: 5 };
  return [
    textAt(
      'number',
      { xMm: left, yMm: pad, widthMm: textMm, heightMm: headMm },
      [[span(number, 'sans-bold'), span(` · ${tag.institution} · `), span(sexSigns[tag.sex], 'sans-bold')]],
      { sizePt: 9, leastSizePt: 6 },
    ),
    textAt('name of the taxon', { xMm: left, yMm: pad + headMm, widthMm: textMm, heightMm: nameMm }, [name], {
      sizePt: 9,
      leastSizePt: 6,
    }),
    textAt(
      'place, date and people',
      {
        xMm: left,
        yMm: pad + headMm + nameMm,
        widthMm: textMm,
        heightMm: half - pad - headMm - nameMm - 0.5,
      },
      front,
      small,
    ),
    codeAt('data-matrix', number, {
      xMm: size.widthMm - codeMm - pad,
      yMm: pad,
      widthMm: codeMm,
      heightMm: codeMm,
    }),
    ruleAt(0, half, size.widthMm, true),
    textAt(
      'bird',
      { xMm: left, yMm: half + pad, widthMm: size.widthMm - left - pad, heightMm: half - 2 * pad },
      [[span(back)]],
      small,
    ),
  ];
}
