'use client';

import { useQuery } from '@tanstack/react-query';
import { PROCESS_COLUMNS } from '@/components/materials/process-columns';
import { ProcessList } from '@/components/materials/process-list';
import type { Column } from '@/components/ui/data-list';
import { whenOpened } from '@/components/ui/later';
import { say, sayWord } from '@/lib/platform/words/say';
import { SKIN_STATES, type SkinListQuery } from '@/lib/skins/schema';
import type { ProcessRow } from '@/lib/storage/schema';
import { skinListOptions } from './queries';

const SkinActs = whenOpened(() => import('./skin-acts').then((module) => module.SkinActs), 6);

const [material, step, ...others] = PROCESS_COLUMNS;
const columns = (): Column<ProcessRow>[] => [
  ...(material === undefined ? [] : [material]),
  { id: 'kind', head: say('Kind'), cell: (row) => sayWord(row.kind) },
  ...(step === undefined
    ? []
    : [{ ...step, head: say('How'), cell: (row: ProcessRow) => row.step?.method ?? '' }]),
  ...others,
];

/** Skins, spread wings and flat skins from the pinning board to the shelf. */
export function SkinList({ query }: { query: SkinListQuery }) {
  const list = useQuery(skinListOptions(query));
  return (
    <ProcessList
      title={say('Skins')}
      noun="skin"
      intro={say('Skins, spread wings and flat skins from the pinning board to their shelf.')}
      states={SKIN_STATES}
      columns={columns()}
      query={query}
      groups={list.data?.groups}
      loading={list.isFetching}
      error={list.error}
      onRetry={() => void list.refetch()}
      moveOn={(rows, done) => <SkinActs skins={rows} today={list.data?.today ?? ''} onDone={done} />}
    />
  );
}
