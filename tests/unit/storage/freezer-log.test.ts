import { Readable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { listExposures, type Stay } from '@/lib/storage/exposure';
import { type FreezerLogOptions, readFreezerLog } from '@/lib/storage/freezer-log';

const options: FreezerLogOptions = {
  columns: { time: 'time', temperature: 'temp' },
  freezer: 'A',
  unit: 'C',
  thresholdsC: new Map([
    ['A', -60],
    ['B', -60],
  ]),
  longestStepMinutes: 20,
};
const read = (text: string, changed: Partial<FreezerLogOptions> = {}) =>
  readFreezerLog(Readable.from([Buffer.from(text)]), { ...options, ...changed });
const at = (minute: number) => new Date(Date.UTC(2026, 2, 5, 10, minute)).toISOString();
const rows = (...temperatures: (number | string)[]) =>
  `time,temp\n${temperatures.map((temperature, index) => `${at(index * 10)},${temperature}`).join('\n')}\n`;
const only = async (text: string, changed: Partial<FreezerLogOptions> = {}) => {
  const result = await read(text, changed);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  const [freezer] = result.freezers;
  if (!freezer) throw new Error('no freezer');
  return { ...freezer, remarks: result.remarks };
};
const problemsOf = async (text: string, changed: Partial<FreezerLogOptions> = {}) => {
  const result = await read(text, changed);
  return result.ok ? [] : result.problems;
};

describe('excursions', () => {
  it('run from the first reading above to the first back, with peak and longest possible length', async () => {
    const log = await only(rows(-80, -50, -30, -55, -70, -80));
    expect(log.excursions).toEqual([
      {
        thresholdC: -60,
        fromAt: at(10),
        toAt: at(40),
        minutes: 30,
        longestMinutes: 40,
        peakC: -30,
        readings: 3,
        isOpenEnded: false,
      },
    ]);
    expect(log).toMatchObject({ readings: 6, minutesAbove: 30, coldestC: -80, warmestC: -30, gaps: [] });
  });

  it('at the threshold is not above it', async () => {
    expect((await only(rows(-80, -60, -80))).excursions).toEqual([]);
  });

  it('stay open where the log ends', async () => {
    const [excursion] = (await only(rows(-80, -50, -40))).excursions;
    expect(excursion).toMatchObject({ isOpenEnded: true, minutes: 10, longestMinutes: null });
  });

  it('are not carried over a gap, and the gap is named', async () => {
    const log = await only(`time,temp\n${at(0)},-80\n${at(10)},-50\n${at(55)},-50\n${at(59)},-80\n`);
    expect(log.gaps).toEqual([{ fromAt: at(10), toAt: at(55), minutes: 45 }]);
    expect(log.excursions.map(({ minutes, isOpenEnded }) => [minutes, isOpenEnded])).toEqual([
      [0, true],
      [4, false],
    ]);
  });

  it('are kept apart by freezer', async () => {
    const text = `time,temp,unit\n${at(0)},-80,A\n${at(0)},-20,B\n${at(10)},-80,A\n${at(10)},-80,B\n`;
    const result = await read(text, { columns: { ...options.columns, freezer: 'unit' } });
    if (!result.ok) throw new Error('refused');
    expect(result.freezers.map((freezer) => [freezer.freezer, freezer.excursions.length])).toEqual([
      ['A', 0],
      ['B', 1],
    ]);
  });
});

describe('as loggers write', () => {
  it('reads semicolons with decimal commas, a byte order mark, a real minus sign and units in the cell', async () => {
    const text = `\ufefftime;temp\r\n${at(0)};−80,5\r\n${at(10)};"-112,9 °F"\r\n${at(20)};193.15 K\r\n`;
    const log = await only(text, { unit: undefined, columns: options.columns }).catch(
      (error: Error) => error.message,
    );
    expect(log).toContain('Say in which unit');
    const fine = await only(text);
    expect(fine.coldestC).toBeCloseTo(-80.5, 6);
    expect(fine.warmestC).toBeCloseTo(-80, 6);
  });

  it('takes the unit of each row from its column', async () => {
    const text = `time,temp,u\n${at(0)},-112,°F\n${at(10)},-80,C\n`;
    const log = await only(text, { unit: undefined, columns: { ...options.columns, unit: 'u' } });
    expect(log.coldestC).toBeCloseTo(-80, 6);
  });

  it('an empty cell is a reading that was not made', async () => {
    const log = await only(rows(-80, '', -80));
    expect(log.readings).toBe(2);
    expect(log.remarks).toEqual([{ line: 3, message: expect.stringContaining('no temperature') }]);
  });

  it('a change of clock is remarked and the instants stay exact', async () => {
    const log = await only(
      'time,temp\n2026-10-25T02:50:00+02:00,-80\n2026-10-25T02:00:00+01:00,-50\n2026-10-25T02:10:00+01:00,-80\n',
    );
    expect(log.excursions[0]).toMatchObject({ fromAt: '2026-10-25T01:00:00.000Z', minutes: 10 });
    expect(log.remarks).toEqual([{ line: 3, message: expect.stringContaining('UTC+02:00 to UTC+01:00') }]);
  });
});

describe('what cannot be trusted refuses the whole file, with its lines', () => {
  it.each([
    ['out of order', `time,temp\n${at(10)},-80\n${at(0)},-80\n`, 3, 'Out of order'],
    ['the same instant twice', `time,temp\n${at(10)},-80\n${at(10)},-79\n`, 3, 'at the same time'],
    ['no zone', 'time,temp\n2026-03-05 10:00,-80\n', 2, 'has no zone'],
    ['an ambiguous date', 'time,temp\n03/04/2026 10:00,-80\n', 2, 'year first'],
    ['a day that does not exist', 'time,temp\n2026-02-30T10:00:00Z,-80\n', 2, 'does not exist'],
    ['no temperature', `time,temp\n${at(0)},cold\n`, 2, 'not a temperature'],
    ['below absolute zero', `time,temp\n${at(0)},-300\n`, 2, 'absolute zero'],
    ['a row with too many cells', `time,temp\n${at(0)},-80,1\n`, 2, 'not a readable table'],
    ['no rows', 'time,temp\n', 1, 'no reading'],
    ['another header', 'when,temp\n', 1, 'no column "time"'],
  ])('%s', async (_, text, line, message) => {
    expect(await problemsOf(text)).toEqual([{ line, message: expect.stringContaining(message) }]);
  });

  it('two kinds of stamps in one log', async () => {
    const text = 'time,temp\n2026-03-05 10:00,-80\n2026-03-05T10:10:00Z,-80\n';
    const [problem] = await problemsOf(text, { utcOffset: '+01:00' });
    expect(problem).toMatchObject({ line: 3, message: expect.stringContaining('two kinds of stamps') });
  });

  it('a freezer without a threshold', async () => {
    const [problem] = await problemsOf(rows(-80), { freezer: 'Z' });
    expect(problem?.message).toContain('"Z" is not a freezer');
  });

  it('stops early in the wrong file', async () => {
    expect(await problemsOf(rows(...Array<string>(500).fill('x')))).toHaveLength(25);
  });

  it('passes on a failure to read', async () => {
    const broken = new Readable({
      read() {
        this.destroy(new Error('disk gone'));
      },
    });
    await expect(readFreezerLog(broken, options)).rejects.toThrow('disk gone');
  });
});

describe('a long log', () => {
  it('gives every excursion of 30,000 readings that are made as they are read', async () => {
    const start = Date.UTC(2026, 0, 1);
    const source = Readable.from(
      (function* () {
        yield 'time,temp\n';
        for (let made = 0; made < 30_000; made += 1) {
          yield `${new Date(start + made * 60_000).toISOString()},${made % 1000 === 0 ? -10 : -80}\n`;
        }
      })(),
    );
    const result = await readFreezerLog(source, options);
    if (!result.ok) throw new Error('refused');
    expect(result.freezers[0]).toMatchObject({ readings: 30_000 });
    expect(result.freezers[0]?.excursions).toHaveLength(30);
  }, 60_000);
});

describe('vials exposed', () => {
  const stay = (materialId: string, rest: Partial<Stay> = {}): Stay => ({
    materialId,
    freezerId: 'A',
    preservation: 'frozen',
    fromAt: '2026-01-01T00:00:00Z',
    untilAt: null,
    thawCount: 1,
    ...rest,
  });
  const excursion = {
    thresholdC: -60,
    fromAt: at(0),
    toAt: at(50),
    minutes: 50,
    longestMinutes: 60,
    peakC: 3,
    readings: 5,
    isOpenEnded: false,
  };
  const byFreezer = new Map([['A', [excursion]]]);

  it('are those that were there, for as long as they were, with a proposed thaw count', () => {
    const exposures = listExposures(byFreezer, [
      stay('whole'),
      stay('left', { untilAt: at(20) }),
      stay('ethanol', { preservation: 'ethanol' }),
      stay('before', { untilAt: '2026-02-01T00:00:00Z' }),
      stay('elsewhere', { freezerId: 'B' }),
    ]);
    expect(
      exposures.map(({ materialId, minutes, proposal }) => [materialId, minutes, proposal.thawCount]),
    ).toEqual([
      ['ethanol', 50, 1],
      ['whole', 50, 2],
      ['left', 20, 1],
    ]);
    expect(exposures[1]?.proposal.reason).toBe('50 min, at most 3.0 °C; counted as a thaw.');
  });

  it('two thaws count twice; a cold excursion does not count', () => {
    const twice = new Map([['A', [excursion, { ...excursion, peakC: -40 }, excursion]]]);
    const proposals = listExposures(twice, [stay('v')]).map((exposure) => exposure.proposal);
    expect(proposals.map((proposal) => proposal.thawCount)).toEqual([2, 2, 3]);
    expect(proposals.filter((proposal) => proposal.isThawProposed)).toHaveLength(2);
  });

  it('an excursion that the log does not end is read cautiously', () => {
    const open = new Map([['A', [{ ...excursion, toAt: at(5), minutes: 5, isOpenEnded: true }]]]);
    expect(listExposures(open, [stay('v')])[0]?.proposal).toMatchObject({
      isThawProposed: true,
      thawCount: 2,
    });
  });
});
