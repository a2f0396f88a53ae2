'use client';

import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { QuickFind } from '@/components/catalogue/quick-find';
import { waitingOptions } from '@/components/desk/queries';
import { NoticeBell } from '@/components/notices/notice-bell';
import { ScanAnywhere } from '@/components/storage/scan-anywhere';
import { STAGE_IDS, type StageId } from '@/lib/desk/schema';
import { paths } from '@/lib/platform/paths';
import { may, type Permission, type Role } from '@/lib/platform/permissions';
import { KeepOffline } from './keep-offline';
import { LiveChanges } from './live-changes';
import { WorkspaceShell } from './workspace-shell';

const STAGES: Record<StageId, { label: string; href: string; permission: Permission }> = {
  permits: { label: 'Permits', href: paths.permits, permission: 'permits.see' },
  salvage: { label: 'Salvage', href: paths.salvage, permission: 'salvage.see' },
  accessions: { label: 'Accessions', href: paths.accessions, permission: 'accessions.see' },
  queue: { label: 'Queue', href: paths.queue, permission: 'queue.see' },
  bench: { label: 'Bench', href: paths.bench, permission: 'bench.see' },
  tissues: { label: 'Tissues', href: paths.tissues, permission: 'tissues.see' },
  skeletons: { label: 'Skeletons', href: paths.skeletons, permission: 'materials.see' },
  skins: { label: 'Skins', href: paths.skins, permission: 'materials.see' },
  catalogue: { label: 'Catalogue', href: paths.catalogue, permission: 'catalogue.see' },
  loans: { label: 'Loans', href: paths.loans, permission: 'loans.see' },
  reports: { label: 'Reports', href: paths.reports, permission: 'reports.see' },
};

const BESIDE: { id: string; label: string; href: string; permission: Permission }[] = [
  { id: 'storage', label: 'Storage', href: paths.storage, permission: 'storage.see' },
  { id: 'taxa', label: 'Taxa', href: paths.taxa, permission: 'taxa.see' },
  { id: 'places', label: 'Places', href: paths.places, permission: 'places.see' },
  { id: 'exchange', label: 'Imports and exports', href: paths.exchange, permission: 'catalogue.see' },
  { id: 'people', label: 'People', href: paths.people, permission: 'people.manage' },
];

/** The frame of every signed-in page: only what this person may open, with what waits there. */
export function Workspace(props: {
  actor: { personId: string | null; name: string; roles: readonly Role[] };
  collection: string;
  demo: boolean;
  children: ReactNode;
}) {
  const { data: waiting } = useQuery(waitingOptions());
  const { actor } = props;
  return (
    <WorkspaceShell
      actor={actor}
      collection={props.collection}
      demo={props.demo}
      home={{ id: 'home', label: 'My desk', href: paths.home }}
      stages={STAGE_IDS.filter((id) => may(actor, STAGES[id].permission)).map((id) => ({
        id,
        label: STAGES[id].label,
        href: STAGES[id].href,
        waiting: waiting?.[id] ?? null,
      }))}
      beside={BESIDE.filter((link) => may(actor, link.permission))}
      notices={may(actor, 'notices.see') ? <NoticeBell /> : null}
      quickFind={may(actor, 'catalogue.see') ? <QuickFind seesBirds={may(actor, 'salvage.see')} /> : null}
    >
      <LiveChanges />
      <KeepOffline mayLog={may(actor, 'salvage.log')} />
      {may(actor, 'storage.see') ? <ScanAnywhere /> : null}
      {props.children}
    </WorkspaceShell>
  );
}
