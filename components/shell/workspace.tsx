'use client';

import { useQuery } from '@tanstack/react-query';
import dynamic from 'next/dynamic';
import type { ReactNode } from 'react';
import { waitingOptions } from '@/components/desk/waiting';
import { NoticeBell } from '@/components/notices/notice-bell';
import { askForItalics } from '@/components/ui/early-fonts';
import type { StageId } from '@/lib/desk/stages';
import type { CommandActor, Finds } from './command-entries';
import type { BesideLink } from './stage-navigation';
import { WorkspaceShell } from './workspace-shell';

/** It shows nothing, so it comes after the page. */
const Unseen = dynamic(() => import('./unseen').then((module) => module.Unseen), { ssr: false });

type WorkspaceProps = {
  actor: CommandActor;
  collection: string;
  demo: boolean;
  home?: BesideLink;
  stages: readonly { id: StageId; label: string; href: string }[];
  beside: readonly BesideLink[];
  finds: Finds;
  /** What this person may use on every page. */
  offers: { notices: boolean; scanning: boolean; logging: boolean };
  children: ReactNode;
};

/** The frame of every signed-in page: only what this person may open, with what waits there. */
export function Workspace({ stages, offers, children, ...rest }: WorkspaceProps) {
  askForItalics();
  const { data: waiting } = useQuery(waitingOptions());
  return (
    <WorkspaceShell
      {...rest}
      stages={stages.map((stage) => ({ ...stage, waiting: waiting?.[stage.id] ?? null }))}
      notices={offers.notices ? <NoticeBell /> : null}
    >
      <Unseen logging={offers.logging} scanning={offers.scanning} />
      {children}
    </WorkspaceShell>
  );
}
