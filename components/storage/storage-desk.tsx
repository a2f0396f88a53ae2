'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { whenOpened, whenSeen } from '@/components/ui/later';
import { Loading } from '@/components/ui/loading';
import { DeskHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import type { StorageTreeAnswer } from '@/lib/storage/wire';
import { CountList } from './count-list';
import { findCode, treeOptions } from './queries';
import { pageOf } from './scan-anywhere';
import { ScanBox, type ScanMessage } from './scan-box';
import { UnitTree } from './unit-tree';

const MakeUnits = whenOpened(() => import('./make-units').then((module) => module.MakeUnits), 6);
const SpaceFinder = whenSeen(() => import('./space-finder').then((module) => module.SpaceFinder), 4);

/** The store: find anything by its code, see what is where and how full, find room, count. */
export function StorageDesk() {
  const tree = useQuery(treeOptions());
  if (tree.error) {
    return (
      <ErrorState
        what={say('The store could not be loaded.')}
        error={tree.error}
        onRetry={() => void tree.refetch()}
      />
    );
  }
  if (tree.data === undefined) return <Loading what={say('Loading the store')} lines={8} />;
  const { units, abilities } = tree.data;
  return (
    <>
      <DeskHead
        title={say('Storage')}
        lede={say('Scan any label to open what carries it.')}
        figures={figuresOf(tree.data)}
      />
      <FindByCode />
      <Section id="places" title={say('Places')} note={say('What stands where, and how full it is.')}>
        {units.length === 0 ? (
          <EmptyState title={say('No place in the store yet')}>
            <p>{say('Begin with a house or a room; freezers, racks and boxes follow.')}</p>
          </EmptyState>
        ) : (
          <UnitTree units={units} />
        )}
      </Section>
      <Section id="room" title={say('Find room')} note={say('A proposal: nothing is kept free for anybody.')}>
        <SpaceFinder />
      </Section>
      <Section id="counts" title={say('Counts')} note={say('What is there, held against the book.')}>
        <CountList />
      </Section>
      {abilities.manage && <AddAtTheTop />}
    </>
  );
}

function FindByCode() {
  const router = useRouter();
  const [message, setMessage] = useState<ScanMessage | null>(null);
  const [busy, setBusy] = useState(false);
  const find = async (code: string) => {
    setBusy(true);
    try {
      router.push(pageOf(await findCode(code)));
    } catch (error) {
      setMessage({ tone: 'attention', text: problemOf(error).title ?? say('Not found.') });
    } finally {
      setBusy(false);
    }
  };
  return (
    <ScanBox
      label={say('Code or number')}
      busy={busy}
      message={message}
      autoFocus
      onCode={(code) => void find(code)}
    />
  );
}

function AddAtTheTop() {
  const [open, setOpen] = useState(false);
  return (
    <Section id="add" title={say('Add a house or a room')}>
      {open ? (
        <MakeUnits parent={null} />
      ) : (
        <Button variant="default" onClick={() => setOpen(true)}>
          {say('Add a place')}
        </Button>
      )}
    </Section>
  );
}

function figuresOf({ units }: StorageTreeAnswer) {
  const roots = units.filter((unit) => unit.parentId === null);
  const boxes = units.filter((unit) => unit.kind === 'box' && unit.grid !== null && unit.active);
  const free = boxes.reduce((sum, box) => sum + Math.max(0, (box.places ?? 0) - box.load), 0);
  return [
    {
      id: 'materials',
      label: say('Materials in the store'),
      value: sayNumber(roots.reduce((sum, unit) => sum + unit.materials, 0)),
    },
    { id: 'freezers', label: say('Freezers'), value: units.filter((unit) => unit.kind === 'freezer').length },
    { id: 'boxes', label: say('Boxes with positions'), value: sayNumber(boxes.length) },
    { id: 'free', label: say('Free positions in them'), value: sayNumber(free) },
  ];
}
