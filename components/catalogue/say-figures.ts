import { crossFigures, type Figures } from '@/components/ui/charts/figures';
import type { ChartsAnswer, MeasureId, MeasureSummary } from '@/lib/catalogue/figures-wire';
import { MONTHS } from '@/lib/platform/say-dates';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';

/** '2026-03' → 'Mar 2026'. */
export function sayMonth(month: string): string {
  const [year = '', number = ''] = month.split('-');
  return `${MONTHS[Number(number) - 1] ?? number} ${year}`;
}

type Cross = { series: string[]; rows: { key: string | number; counts: number[] }[]; unknown: number };
export type CrossChart = {
  series: string[];
  rows: { label: string; counts: number[] }[];
  figures: Figures;
  summary: string;
};

const total = (counts: readonly number[]) => counts.reduce((sum, count) => sum + count, 0);

/** A table of counts as a chart needs it, with a sentence that says how many there are and where most are. */
export function crossChart(
  { series, rows }: Cross,
  { name, first, sayKey }: { name: string; first: string; sayKey: (key: string | number) => string },
): CrossChart {
  const said = rows.map(({ key, counts }) => ({ label: sayKey(key), counts }));
  const names = series.map(sayWord);
  const all = total(said.map(({ counts }) => total(counts)));
  const top = [...said].sort((a, b) => total(b.counts) - total(a.counts))[0];
  const most = names
    .map((label, at) => ({ label, count: total(said.map(({ counts }) => counts[at] ?? 0)) }))
    .sort((a, b) => b.count - a.count)[0];
  const summary =
    top === undefined || most === undefined || all === 0
      ? say('Nothing to count.')
      : say('{of}. Most in one row: {label} ({total}). {x}', {
          of: countOf(all, 'bird'),
          label: top.label,
          total: total(top.counts),
          x:
            names.length > 1
              ? say('Commonest: {label} ({count}).', { label: most.label.toLowerCase(), count: most.count })
              : '',
        }).trim();
  return { series: names, rows: said, figures: crossFigures(name, first, names, said), summary };
}

export const MEASURE_WORDS: Record<MeasureId, { label: string; unit: string }> = phrases({
  massG: { label: 'Mass', unit: 'g' },
  wingMm: { label: 'Wing', unit: 'mm' },
  tailMm: { label: 'Tail', unit: 'mm' },
  tarsusMm: { label: 'Tarsus', unit: 'mm' },
});

/** To three decimals at most: what a quantile adds beyond the scale's own says nothing. */
const tidy = (value: number): number => Math.round(value * 1000) / 1000;

/** One measure by sex: rows for the drawing and the table. */
export function measureChart(
  field: MeasureId,
  measures: readonly MeasureSummary[],
  sexes: readonly string[],
) {
  const { label, unit } = MEASURE_WORDS[field];
  const rows = measures
    .filter((one) => one.field === field)
    .map(({ field: _, sex, count, ...values }) => ({
      label: sayWord(sex),
      series: sexes.indexOf(sex),
      count,
      least: tidy(values.least),
      lowerQuartile: tidy(values.lowerQuartile),
      median: tidy(values.median),
      upperQuartile: tidy(values.upperQuartile),
      most: tidy(values.most),
    }))
    .sort((a, b) => a.series - b.series);
  const heads = [say('Least'), say('Lower quartile'), say('Median'), say('Upper quartile'), say('Most')];
  const figures: Figures = {
    name: `${label.toLowerCase()}-by-sex`,
    columns: [
      { label: say('Sex') },
      { label: say('Birds'), numeric: true },
      ...heads.map((head) => ({ label: `${head}, ${unit}`, numeric: true })),
    ],
    rows: rows.map((row) => [
      row.label,
      row.count,
      row.least,
      row.lowerQuartile,
      row.median,
      row.upperQuartile,
      row.most,
    ]),
  };
  const summary = rows
    .map((row) =>
      say('{label}: median {median} {unit} of {of}', {
        label: row.label,
        median: row.median,
        unit,
        of: countOf(row.count, 'bird'),
      }),
    )
    .join('; ');
  return { label, unit, rows, figures, summary: `${summary}.` };
}

const percent = (share: number) => `${Math.round(100 * share)} %`;

/** "60 % of the sexed birds are females (95 % interval 31 % to 83 %)." */
export function saySexRatio({ femaleShare }: ChartsAnswer['sexes']): string {
  if (femaleShare === null) return say('None of these birds is sexed.');
  const { share, low, high } = femaleShare;
  return say('{percent} of the sexed birds are females (95 % interval {percent2} to {percent3}).', {
    percent: percent(share),
    percent2: percent(low),
    percent3: percent(high),
  });
}
