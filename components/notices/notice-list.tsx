'use client';

import { Button, NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { useListAddress } from '@/components/ui/use-list-address';
import type { NoticeListQuery, NoticeRow } from '@/lib/notices/schema';
import { paths } from '@/lib/platform/paths';
import { phrases, say } from '@/lib/platform/words/say';
import { noticeListOptions, useMarkAllRead, useMarkRead } from './queries';

const VIEWS = phrases([
  { value: 'all', label: 'All' },
  { value: 'unread', label: 'Unread' },
]);

/** What one was told, newest first. Opening a notice marks it as read. */
export function NoticeList({ query }: { query: NoticeListQuery }) {
  const address = useListAddress();
  const list = useQuery(noticeListOptions(query));
  const mark = useMarkRead();
  const markAll = useMarkAllRead();
  const unread = list.data?.unread ?? 0;
  const newest = list.data?.rows[0]?.createdAt;
  const open = (row: NoticeRow) => {
    if (row.readAt === null) mark.mutate({ id: row.id, read: true });
  };
  const failed = mark.error ?? markAll.error;
  return (
    <>
      <ListHead
        title={say('Notices')}
        count={unread === 0 ? undefined : say('{unread} unread', { unread })}
        intro={say('What happened that concerns you.')}
        acts={
          <>
            {query.after === undefined && unread > 0 && newest !== undefined ? (
              <Button variant="default" loading={markAll.isPending} onClick={() => markAll.mutate(newest)}>
                {say('Mark all as read')}
              </Button>
            ) : null}
            <Button component={Link} variant="default" href={paths.noticePreferences}>
              {say('What I am told')}
            </Button>
          </>
        }
      >
        <NativeSelect
          label={say('Show')}
          data={VIEWS}
          value={query.show}
          onChange={(event) => address.filter({ show: event.currentTarget.value })}
        />
      </ListHead>
      {failed ? <p role="alert">{problemOf(failed).title}</p> : null}
      <DataList<NoticeRow>
        label={say('Notices')}
        columns={[
          {
            id: 'what',
            head: say('What'),
            cell: (row) => (row.readAt === null ? <b>{row.sentence}</b> : row.sentence),
          },
          { id: 'when', head: say('When'), cell: (row) => <Moment at={row.createdAt} show="both" /> },
          { id: 'state', head: say('State'), cell: (row) => <ReadState row={row} /> },
          {
            id: 'acts',
            head: say('Change'),
            cell: (row) => (
              <Button
                size="compact-sm"
                variant="subtle"
                disabled={mark.isPending}
                aria-label={say('Mark as {x}: {sentence}', {
                  x: row.readAt === null ? 'read' : 'unread',
                  sentence: row.sentence,
                })}
                onClick={() => mark.mutate({ id: row.id, read: row.readAt === null })}
              >
                {say('Mark as {x}', { x: row.readAt === null ? say('read') : say('unread') })}
              </Button>
            ),
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => row.href}
        onOpen={open}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState title={query.show === 'unread' ? say('Nothing unread') : say('No notices yet')}>
            <p>{say('You hear here of mentions, of your birds and records, and of what is due.')}</p>
          </EmptyState>
        }
      />
    </>
  );
}

const ReadState = ({ row }: { row: NoticeRow }) =>
  row.readAt === null ? (
    <StateBadge tone="lead">{say('Unread')}</StateBadge>
  ) : (
    <StateBadge tone="settled">{say('Read')}</StateBadge>
  );
