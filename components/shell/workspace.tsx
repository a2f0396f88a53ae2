'use client';

import { useQuery } from '@tanstack/react-query';
import dynamic from 'next/dynamic';
import type { ReactNode } from 'react';
import { waitingOptions } from '@/components/desk/queries';
import { NoticeBell } from '@/components/notices/notice-bell';
import { placesOf, stagesOf } from '@/lib/desk/places';
import { may, type Role } from '@/lib/platform/permissions';
import type { Finds } from './command-entries';
import { KeepOffline } from './keep-offline';
import { LiveChanges } from './live-changes';
import { WorkspaceShell } from './workspace-shell';

/** It shows nothing, so it comes after the page. */
const ScanAnywhere = dynamic(
  () => import('@/components/storage/scan-anywhere').then((module) => module.ScanAnywhere),
  { ssr: false },
);

type Who = { personId: string | null; name: string; roles: readonly Role[] };

function findsOf(who: Who): Finds {
  if (!may(who, 'catalogue.see')) return 'nothing';
  return may(who, 'salvage.see') ? 'birds' : 'specimens';
}

/** The frame of every signed-in page: only what this person may open, with what waits there. */
export function Workspace(props: { actor: Who; collection: string; demo: boolean; children: ReactNode }) {
  const { data: waiting } = useQuery(waitingOptions());
  const { actor } = props;
  const places = placesOf(actor);
  return (
    <WorkspaceShell
      actor={actor}
      collection={props.collection}
      demo={props.demo}
      home={places.find(({ kind }) => kind === 'home')}
      stages={stagesOf(actor).map(({ id, label, href }) => ({
        id,
        label,
        href,
        waiting: waiting?.[id] ?? null,
      }))}
      beside={places.filter(({ kind }) => kind === 'beside')}
      places={places}
      finds={findsOf(actor)}
      notices={may(actor, 'notices.see') ? <NoticeBell /> : null}
    >
      <LiveChanges />
      <KeepOffline mayLog={may(actor, 'salvage.log')} />
      {may(actor, 'storage.see') ? <ScanAnywhere /> : null}
      {props.children}
    </WorkspaceShell>
  );
}
