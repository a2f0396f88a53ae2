'use client';

import { Button } from '@mantine/core';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import type { CountFinding, CountRecord, ResolveRequest } from '@/lib/storage/wire-inventory';
import classes from './count-desk.module.css';
import { useResolveFinding } from './queries';

const keyOf = (finding: CountFinding): string =>
  finding.kind === 'two-in-one-position'
    ? say('two {place}', { place: finding.found.place })
    : `${finding.kind} ${finding.materialId ?? finding.label}`;

/** What the count found, each with what puts the book right, by one press. */
export function CountFindings({ count }: { count: CountRecord }) {
  const resolve = useResolveFinding(count.id);
  if (count.findings.length === 0) {
    return (
      <EmptyState
        title={
          count.closedAt === null ? say('Nothing out of place so far') : say('Nothing is left to put right')
        }
      />
    );
  }
  return (
    <>
      {resolve.error !== null && <p role="alert">{problemOf(resolve.error).title}</p>}
      {count.findings.map((finding) => (
        <div key={keyOf(finding)} className={classes.finding}>
          <Words finding={finding} />
          {count.abilities.resolve && (
            <Act
              finding={finding}
              busy={resolve.isPending && resolve.variables.materialId === materialOf(finding)}
              onAct={(act) => {
                const materialId = materialOf(finding);
                if (materialId !== null) resolve.mutate({ materialId, act });
              }}
            />
          )}
        </div>
      ))}
      {count.moreFindings > 0 && (
        <p>{say('And {moreFindings} more; put these right first.', { moreFindings: count.moreFindings })}</p>
      )}
    </>
  );
}

const materialOf = (finding: CountFinding): string | null =>
  finding.kind === 'two-in-one-position' ? null : finding.materialId;

function Words({ finding }: { finding: CountFinding }) {
  switch (finding.kind) {
    case 'missing':
      return (
        <p>
          <StateBadge tone="stop">{say('Missing')}</StateBadge> <Name finding={finding} />
          {say(' should be in')} {finding.expected.place}.
        </p>
      );
    case 'misplaced':
      return (
        <p>
          <StateBadge tone="attention">{say('Misplaced')}</StateBadge> <Name finding={finding} />
          {say(' was found in')} {finding.found.place}
          {say('; the book has it in ')}
          {finding.expected.place}.
        </p>
      );
    case 'unexpected':
      return (
        <p>
          <StateBadge tone="attention">{say('Unexpected')}</StateBadge> <Name finding={finding} />
          {say(' was found in')} {finding.found.place};{' '}
          {finding.book === null
            ? say('nobody knows this code.')
            : say('the book has it {book}.', { book: sayBook(finding.book) })}
        </p>
      );
    case 'two-in-one-position':
      return (
        <p>
          <StateBadge tone="stop">{say('Two in one position')}</StateBadge>{' '}
          {finding.labels.join(say(' and '))}
          {say(' were both read in ')}
          {finding.found.place}
          {say(': scan that position again.')}
        </p>
      );
  }
}

const sayBook = (book: string): string =>
  book === 'missing' || book.startsWith('out ') || book.startsWith('without')
    ? say('as {book}', { book })
    : say('in {book}', { book });

function Name({ finding }: { finding: Extract<CountFinding, { materialId: string | null }> }) {
  if (finding.materialId === null) return <b>{finding.label}</b>;
  return <Link href={paths.vial(finding.materialId)}>{finding.label}</Link>;
}

function Act({
  finding,
  busy,
  onAct,
}: {
  finding: CountFinding;
  busy: boolean;
  onAct: (act: ResolveRequest['act']) => void;
}) {
  if (finding.kind === 'missing') {
    return (
      <Button variant="default" loading={busy} onClick={() => onAct('mark-missing')}>
        {say('Note it as missing')}
      </Button>
    );
  }
  if (finding.kind === 'misplaced' || (finding.kind === 'unexpected' && finding.mayRecord)) {
    return (
      <Button variant="default" loading={busy} onClick={() => onAct('record-where-found')}>
        {say('Book it where it was found')}
      </Button>
    );
  }
  return null;
}
