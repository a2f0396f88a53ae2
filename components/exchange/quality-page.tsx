'use client';

import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import type { QualityAnswer } from '@/lib/exchange/schema';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import { qualityOptions } from './queries';

type Finding = QualityAnswer['findings'][number];

const LEVELS: Record<string, string> = phrases({
  '-1': 'below level 0',
  '0': 'level 0: the thing is known',
  '1': 'level 1: what it is',
  '2': 'level 2: where, when, by whom',
  '3': 'level 3: linked by identifiers',
});

/** The draft's own name of a test, without what all of them begin with. */
const shortName = (test: string): string => test.replace(/^VALIDATION_/, '');

/** What would leave the house, judged by the published tests, before it does. */
export function QualityPage() {
  const [birds, setBirds] = useState<'approved' | 'all'>('approved');
  const report = useQuery(qualityOptions({ birds }));
  return (
    <>
      <ListHead
        title={say('Quality before release')}
        intro={say(
          'Tests of the Biodiversity Data Quality draft (TDWG, July 2026) and levels of minimum information (MIDS draft, April 2026), on the rows as they would be exported.',
        )}
      >
        <NativeSelect
          label={say('Birds')}
          value={birds}
          onChange={(event) => setBirds(event.currentTarget.value as 'approved' | 'all')}
          data={[
            { value: 'approved', label: say('Catalogued') },
            { value: 'all', label: say('All accepted') },
          ]}
        />
      </ListHead>
      {report.error ? (
        <ErrorState error={report.error} onRetry={() => void report.refetch()} />
      ) : report.data === undefined ? (
        <Loading what={say('Judging every row')} lines={8} />
      ) : (
        <Report report={report.data} />
      )}
    </>
  );
}

function Report({ report }: { report: QualityAnswer }) {
  const failing = report.findings.filter((one) => one.notCompliant > 0);
  const passing = report.findings.length - failing.length;
  return (
    <>
      <Section id="levels" title={say('Levels of information')} note={countOf(report.records, 'bird')}>
        <Facts>
          {Object.entries(report.midsLevels).map(([level, count]) => (
            <Fact key={level} term={LEVELS[level] ?? level}>
              {count}
            </Fact>
          ))}
          {Object.entries(report.missingElements).map(([element, count]) => (
            <Fact key={element} term={say('Without {element}', { element })}>
              {count}
            </Fact>
          ))}
        </Facts>
      </Section>
      <Section
        id="tests"
        title={say('Tests')}
        note={say('{of} found nothing wrong.', { of: countOf(passing, 'test') })}
      >
        <DataList<Finding>
          label={say('Tests with something to look at')}
          columns={[
            { id: 'test', head: say('Test'), cell: (row) => shortName(row.test) },
            { id: 'bad', head: say('Not right'), numeric: true, cell: (row) => row.notCompliant },
            { id: 'good', head: say('Right|correct'), numeric: true, cell: (row) => row.compliant },
            { id: 'none', head: say('Not asked'), numeric: true, cell: (row) => row.notApplicable },
            {
              id: 'example',
              head: say('For example'),
              deskOnly: true,
              cell: (row) => row.examples[0]?.comment ?? '',
            },
          ]}
          rows={failing}
          rowId={(row) => row.test}
          empty={<p>{say('No test found anything wrong.')}</p>}
        />
      </Section>
    </>
  );
}
