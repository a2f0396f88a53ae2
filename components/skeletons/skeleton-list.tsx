'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { PROCESS_COLUMNS, StayBadge } from '@/components/materials/process-columns';
import { ProcessList } from '@/components/materials/process-list';
import type { Column } from '@/components/ui/data-list';
import { whenOpened } from '@/components/ui/later';
import { Link } from '@/components/ui/link';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { SKELETON_STATES } from '@/lib/skeletons/rules/cleaning';
import type { SkeletonListQuery, SkeletonRow } from '@/lib/skeletons/schema';
import { skeletonListOptions } from './queries';

const SkeletonActs = whenOpened(() => import('./skeleton-acts').then((module) => module.SkeletonActs), 6);

const columns = (): Column<SkeletonRow>[] =>
  PROCESS_COLUMNS.map((column) =>
    column.id === 'due' ? { ...column, cell: (row: SkeletonRow) => <Due row={row} /> } : column,
  );

/** When it is due, and what its count left open. */
function Due({ row }: { row: SkeletonRow }) {
  return (
    <>
      <StayBadge stay={row.stay} />
      {row.openQuestions > 0 && (
        <>
          <br />
          <StateBadge tone="attention">{countOf(row.openQuestions, 'open question')}</StateBadge>
        </>
      )}
    </>
  );
}

/** Skeletons from the rough cleaning to the shelf. */
export function SkeletonList({ query }: { query: SkeletonListQuery }) {
  const list = useQuery(skeletonListOptions(query));
  const { today = '', procedures = [] } = list.data ?? {};
  return (
    <ProcessList<SkeletonRow>
      title={say('Skeletons')}
      noun="skeleton"
      intro={say('Skeletons from the rough cleaning to their box on the shelf.')}
      acts={
        <Button component={Link} href={paths.cleaningProcedures} variant="default">
          {say('Cleaning procedures')}
        </Button>
      }
      states={SKELETON_STATES}
      columns={columns()}
      query={query}
      groups={list.data?.groups}
      loading={list.isFetching}
      error={list.error}
      onRetry={() => void list.refetch()}
      moveOn={(rows, done) => (
        <SkeletonActs skeletons={rows} procedures={procedures} today={today} onDone={done} />
      )}
    />
  );
}
