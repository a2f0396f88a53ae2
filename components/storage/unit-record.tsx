'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { RecordHistory } from '@/components/audit/record-history';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { RecordHead, type SectionLink } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import type { Occupant, UnitRecord as Unit, UnitRow } from '@/lib/storage/wire';
import { BoxDesk, pageOfMaterial } from './box-desk';
import { LoadBar } from './load-bar';
import { unitOptions, useOpenCount } from './queries';
import { ShelfDesk } from './shelf-desk';
import classes from './storage.module.css';
import { PRESERVATION_LABELS, sayKind, sayLoad, sayTemperature } from './words';

const FreezerLogs = whenSeen(() => import('./freezer-logs').then((module) => module.FreezerLogs), 4);
const Evacuation = whenSeen(
  () => import('@/components/tissues/evacuation').then((module) => module.Evacuation),
  4,
);
const MakeUnits = whenSeen(() => import('./make-units').then((module) => module.MakeUnits), 4);
const UnitMove = whenSeen(() => import('./unit-move').then((module) => module.UnitMove), 2);
const UnitSettings = whenSeen(() => import('./unit-settings').then((module) => module.UnitSettings), 6);
const PrintLabels = whenSeen(
  () => import('@/components/labels/print-labels').then((module) => module.PrintLabels),
  2,
);

const isFreezer = ({ kind }: Unit) => kind === 'freezer' || kind === 'cabinet';
/** A house or room holds freezers, not vials. */
const holdsMaterials = ({ kind, occupants, away }: Unit) =>
  (kind !== 'site' && kind !== 'room') || occupants.length + away.length > 0;

/** One place of the store: what lies in it and stands in it, its settings, its labels, its temperature, its story. */
export function UnitRecord({ id }: { id: string }) {
  const record = useQuery(unitOptions(id));
  if (record.error) {
    return (
      <ErrorState
        what={say('This place could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the place')} lines={8} />;
  const unit = record.data;
  return (
    <>
      <RecordHead
        number={unit.code}
        title={unit.name}
        back={{ label: say('Storage'), href: paths.storage }}
        state={
          <StateBadge tone={unit.active ? 'neutral' : 'attention'}>
            {unit.active ? sayKind(unit.kind) : say('{name}, not in use', { name: sayKind(unit.kind) })}
          </StateBadge>
        }
        intro={<Around unit={unit} />}
        acts={unit.abilities.count ? <CountHere unit={unit} /> : null}
        sections={sectionsOf(unit)}
      />
      <Facts>
        <Fact term={say('Holds|contains')}>{sayLoad(unit.load, unit.places)}</Fact>
        <Fact term={say('Materials at all depths')}>{sayNumber(unit.materials)}</Fact>
        <Fact term={say('Temperature')}>
          {sayTemperature(unit.conditions.temperatureC) ?? say('not set')}
          {unit.targetTempC === null && unit.conditions.temperatureC !== null ? say(', as around it') : ''}
        </Fact>
        <Fact term={say('Takes')}>
          {unit.conditions.preservations?.map((kind) => PRESERVATION_LABELS[kind].toLowerCase()).join(', ') ??
            say('anything')}
        </Fact>
      </Facts>
      {holdsMaterials(unit) && (
        <Section
          id="contents"
          title={say('Contents')}
          note={unit.grid ? say('Click or walk by arrow keys.') : undefined}
        >
          {unit.grid === null ? <ShelfDesk unit={unit} /> : <BoxDesk unit={unit} grid={unit.grid} />}
          <ContentsList unit={unit} />
        </Section>
      )}
      {unit.kind !== 'box' && (
        <Section id="units" title={say('What stands in it')}>
          <UnitList rows={unit.children} />
          {unit.abilities.manage && unit.active && (
            <details className="f-screen-only">
              <summary>{say('Add something here')}</summary>
              <MakeUnits parent={unit} />
            </details>
          )}
        </Section>
      )}
      <Labels unit={unit} />
      {isFreezer(unit) && (
        <>
          <Section
            id="log"
            title={say('Temperature')}
            note={say('Logs of its logger, and what they mean for what lay in it.')}
          >
            <FreezerLogs unit={unit} />
          </Section>
          <Section id="evacuation" title={say('If it fails')} note={say('Which box first, and where to.')}>
            <Evacuation unitId={unit.id} />
          </Section>
        </>
      )}
      {(unit.abilities.moveUnit || unit.abilities.manage) && (
        <Section id="settings" title={say('Settings')}>
          {unit.abilities.moveUnit && <UnitMove unit={unit} />}
          {unit.abilities.manage && <UnitSettings unit={unit} />}
        </Section>
      )}
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'unit', subjectId: id }} />
      </Section>
    </>
  );
}

function sectionsOf(unit: Unit): SectionLink[] {
  const sections: (SectionLink | false)[] = [
    holdsMaterials(unit) && { id: 'contents', label: say('Contents') },
    unit.kind !== 'box' && { id: 'units', label: say('What stands in it') },
    { id: 'labels', label: say('Labels') },
    isFreezer(unit) && { id: 'log', label: say('Temperature') },
    isFreezer(unit) && { id: 'evacuation', label: say('If it fails') },
    unit.abilities.moveUnit && { id: 'settings', label: say('Settings') },
    { id: 'history', label: say('History') },
  ];
  return sections.filter((section) => section !== false);
}

function Around({ unit }: { unit: Unit }) {
  if (unit.around.length === 0) return null;
  return (
    <ol className={classes.crumbs} aria-label={say('Where it stands')}>
      {unit.around.map((around) => (
        <li key={around.id}>
          <Link href={paths.storageUnit(around.id)}>{around.name}</Link>
        </li>
      ))}
      {unit.parentPosition !== null && <li>{unit.parentPosition}</li>}
    </ol>
  );
}

function CountHere({ unit }: { unit: Unit }) {
  const router = useRouter();
  const open = useOpenCount();
  return (
    <>
      {open.error !== null && <p role="alert">{problemOf(open.error).title}</p>}
      <Button
        variant="default"
        loading={open.isPending}
        onClick={() =>
          unit.openCountId === null
            ? open.mutate(unit.id, { onSuccess: (count) => router.push(paths.inventory(count.id)) })
            : router.push(paths.inventory(unit.openCountId))
        }
      >
        {unit.openCountId === null ? say('Count what is here') : say('Join the count')}
      </Button>
    </>
  );
}

function ContentsList({ unit }: { unit: Unit }) {
  const rows = [...unit.occupants, ...unit.away].sort(
    (a, b) => (a.index ?? Number.MAX_SAFE_INTEGER) - (b.index ?? Number.MAX_SAFE_INTEGER),
  );
  return (
    <DataList<Occupant>
      label={say('What lies in {name}', { name: unit.name })}
      columns={[
        {
          id: 'label',
          head: say('Number'),
          cell: (row) => (
            <>
              {row.label}
              <br />
              <TaxonName scientific={row.scientificName} />
            </>
          ),
        },
        { id: 'what', head: say('What it is'), cell: (row) => sayWord(row.what) },
        { id: 'position', head: say('Position'), cell: (row) => row.position ?? '' },
        {
          id: 'state',
          head: say('State'),
          cell: (row) => (
            <StateBadge
              tone={row.custody === 'on-shelf' ? 'settled' : row.custody === 'missing' ? 'stop' : 'attention'}
            >
              {row.custody === 'on-shelf' ? sayWord(row.state ?? 'here') : sayWord(row.custody)}
            </StateBadge>
          ),
        },
      ]}
      rows={rows}
      rowId={(row) => row.materialId}
      rowHref={pageOfMaterial}
      empty={<EmptyState title={say('Nothing lies here')} />}
    />
  );
}

function UnitList({ rows }: { rows: readonly UnitRow[] }) {
  const sorted = [...rows].sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }));
  return (
    <DataList<UnitRow>
      label={say('What stands in it')}
      columns={[
        { id: 'name', head: say('Name'), cell: (row) => row.name },
        { id: 'kind', head: say('Kind'), cell: (row) => sayKind(row.kind) },
        { id: 'position', head: say('Position'), cell: (row) => row.parentPosition ?? '' },
        { id: 'code', head: say('Code'), deskOnly: true, cell: (row) => row.code },
        { id: 'load', head: say('Holds'), cell: (row) => <LoadBar unit={row} /> },
      ]}
      rows={sorted}
      rowId={(row) => row.id}
      rowHref={(row) => paths.storageUnit(row.id)}
      empty={<EmptyState title={say('Nothing stands in it')} />}
    />
  );
}

function Labels({ unit }: { unit: Unit }) {
  const vials = unit.materials > 0 && unit.materials <= 2000;
  return (
    <Section id="labels" title={say('Labels')}>
      <PrintLabels kind="storage" name={say('Label of {name}', { name: unit.name })} ids={[unit.id]} />
      {unit.children.length > 0 && (
        <PrintLabels
          kind="storage"
          name={say('Labels of {of} in it', { of: countOf(unit.children.length, 'unit') })}
          inUnit={unit.id}
        />
      )}
      {vials && (
        <>
          <PrintLabels kind="vial-side" name={say('Sides of all vials in it')} inUnit={unit.id} />
          <PrintLabels kind="vial-cap" name={say('Caps of all vials in it')} inUnit={unit.id} />
        </>
      )}
    </Section>
  );
}
