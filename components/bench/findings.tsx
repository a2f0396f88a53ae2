'use client';

import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import type { SectionId } from '@/lib/bench/catalogue/types';
import type { BenchValues } from '@/lib/bench/fields';
import { handWingIndex, sumMoultScores, wristTieDistanceMm } from '@/lib/bench/wing';
import type { Derived } from '@/lib/bench/wire';
import { say, sayCode, sayWord } from '@/lib/platform/words/say';
import classes from './findings.module.css';

/** What the record's own figures say, at the end of the section they come from. */
export function Findings({
  section,
  values,
  derived,
}: {
  section: SectionId;
  values: BenchValues;
  derived: Derived;
}) {
  if (section === 'sexing') return <SexFound {...derived} />;
  if (section === 'ageing') return <AgeFound {...derived} />;
  if (section === 'measurements') return <WingFound values={values} />;
  return section === 'fat-and-moult' ? <MoultFound values={values} /> : null;
}

const one = (value: number): string => String(Math.round(value * 10) / 10);

function SexFound({ sex, sexConfidence, sexReasons, sexContradicted, gonads }: Derived) {
  return (
    <div className={classes.findings}>
      <p>
        {sayWith('The evidence says: {b}{confidence}{length}', {
          b: <b>{sayCode(sex)}</b>,
          confidence: sexConfidence !== 'none' && `, ${sexConfidence}`,
          length: sexContradicted && (
            <>
              {' '}
              <StateBadge tone="attention">{say('Contradiction')}</StateBadge>
            </>
          ),
        })}
      </p>
      {sexReasons.length > 0 && (
        <ul>
          {sexReasons.map((reason) => (
            <li key={reason}>{reason}.</li>
          ))}
        </ul>
      )}
      {gonads.map(({ field, label, lengthMm, widthMm, volumeMm3, sentence }) => (
        <p key={field}>
          {sayWith('{label}: {lengthMm}{widthMm} mm{volumeMm3}. {sentence}.', {
            label,
            lengthMm,
            widthMm: widthMm !== null && ` × ${widthMm}`,
            volumeMm3:
              volumeMm3 !== null && say(', {one} mm³ as an ellipsoid (0.524 W²L)', { one: one(volumeMm3) }),
            sentence,
          })}
        </p>
      ))}
    </div>
  );
}

function AgeFound({ age, ageConfidence, ageFindings }: Derived) {
  if (ageFindings.length === 0) return null;
  const said: Record<string, string> = {
    young: say('hatched within about the last year'),
    older: say('older than about a year'),
  };
  return (
    <div className={classes.findings}>
      <p>
        {sayWith('The evidence speaks for: {b}{confidence}', {
          b: <b>{said[age] ?? say('nothing certain')}</b>,
          confidence: ageConfidence !== 'none' && `, ${ageConfidence}`,
        })}
      </p>
      <ul>
        {ageFindings.map(({ evidence, seen, caution, source }) => (
          <li key={evidence}>
            {sayWord(seen)}. {caution} <span className={classes.source}>({source})</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

function WingFound({ values }: { values: BenchValues }) {
  const { wingMm, kippsDistanceMm, betweenWingsMm } = values;
  const index = wingMm && kippsDistanceMm ? handWingIndex(kippsDistanceMm, wingMm) : null;
  if (index === null && betweenWingsMm === undefined) return null;
  return (
    <div className={classes.findings}>
      {index !== null && (
        <p>
          {sayWith('Hand-wing index {b} {span}', {
            b: <b>{one(index)}</b>,
            span: <span className={classes.source}>{say('(100 × Kipp’s distance ÷ wing)')}</span>,
          })}
        </p>
      )}
      {betweenWingsMm !== undefined && (
        <p>
          {sayWith('Tie the wrists at {b} {span}', {
            b: <b>{say('{one} mm', { one: one(wristTieDistanceMm(betweenWingsMm)) })}</b>,
            span: (
              <span className={classes.source}>
                {say('(1⅔ of the distance between the wings; common practice)')}
              </span>
            ),
          })}
        </p>
      )}
    </div>
  );
}

function MoultFound({ values }: { values: BenchValues }) {
  const rows = [
    [say('Primaries'), values.primaryMoult],
    [say('Secondaries'), values.secondaryMoult],
    [say('Tail feathers'), values.tailFeatherMoult],
  ] as const;
  const sums = rows.flatMap(([label, scores]) => {
    const sum = scores === undefined ? null : sumMoultScores(scores);
    return sum === null ? [] : [{ label, ...sum }];
  });
  if (sums.length === 0) return null;
  return (
    <div className={classes.findings}>
      {sums.map(({ label, sum, most, growing, feathers }) => (
        <p key={label}>
          {sayWith('{label}: moult score {b}, {growing} of {feathers} growing', {
            label,
            b: <b>{say('{sum} of {most}', { sum, most })}</b>,
            growing,
            feathers,
          })}
        </p>
      ))}
    </div>
  );
}
