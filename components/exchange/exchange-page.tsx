'use client';

import { Anchor, Button, Group, NativeSelect, Stack, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { EXPORT_FORMS, type ExportForm, type ExportOverview, MATERIAL_FORMS } from '@/lib/exchange/schema';
import { queryString } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { ImportList } from './import-list';
import { overviewOptions } from './queries';

const FORMS: Record<ExportForm, { name: string; holds: string }> = {
  occurrences: {
    name: 'Occurrence archive',
    holds:
      'Darwin Core Archive: one row a bird; identifications, measurements, relationships and every material beside it.',
  },
  materials: {
    name: 'Material archive',
    holds:
      'One row a skin, skeleton or vial, with tissue, preservation, preparation, permit and loan terms of GGBN.',
  },
  'data-package': {
    name: 'Data package',
    holds:
      'Darwin Core Data Package of 2026: a table for each kind of thing, joined by identifiers, with vials and loans as this house keeps them. The form that loses the least.',
  },
  'simple-csv': {
    name: 'Simple Darwin Core',
    holds: 'One table, one line a bird, for a spreadsheet. Text that looks like a formula is kept as text.',
  },
  geojson: { name: 'GeoJSON', holds: 'The birds as points for a map (WGS84).' },
};

/** What leaves the house and what comes in. */
export function ExchangePage() {
  const overview = useQuery(overviewOptions());
  if (overview.error) return <ErrorState error={overview.error} onRetry={() => void overview.refetch()} />;
  if (overview.data === undefined) return <Loading what="Loading what can be exchanged" lines={6} />;
  const { mayImport, mayTokens, mayWebhooks } = overview.data;
  return (
    <>
      <ListHead
        title="Imports and exports"
        intro="Data goes out in the open standards of the field, and comes in from any table."
        acts={
          <>
            <Button component={Link} href={paths.apiReference} variant="default">
              API
            </Button>
            {mayTokens ? (
              <Button component={Link} href={paths.tokens} variant="default">
                Tokens
              </Button>
            ) : null}
            {mayWebhooks ? (
              <Button component={Link} href={paths.webhooks} variant="default">
                Webhooks
              </Button>
            ) : null}
          </>
        }
      />
      <Exports overview={overview.data} />
      {mayImport ? (
        <Section
          id="imports"
          title="Imports"
          note="CSV or Excel sheets of earlier birds. Everything is checked before anything is made, and an import can be taken back."
        >
          <ImportList />
        </Section>
      ) : null}
    </>
  );
}

function describeCoarse({ generalised, all }: ExportOverview): string {
  const coarse = 'given with a coarse place, and the file says so.';
  if (all === null) return `Every bird is ${coarse}`;
  if (generalised === 0) return `Birds of sensitive taxa are ${coarse} There are none now.`;
  return `Birds of sensitive taxa (${generalised}) are ${coarse}`;
}

function Exports({ overview }: { overview: ExportOverview }) {
  const { approved, all, mayExact, mayMaterials } = overview;
  const [birds, setBirds] = useState<'approved' | 'all'>('approved');
  const [places, setPlaces] = useState<'shared' | 'exact'>('shared');
  const [since, setSince] = useState('');
  const address = (form: ExportForm) =>
    `/api/exchange/export/${form}${queryString({ birds, places, since })}`;
  const forms = EXPORT_FORMS.filter((form) => !MATERIAL_FORMS.includes(form) || mayMaterials);
  return (
    <Section id="exports" title="Exports" note={`${describeCoarse(overview)} Finders are never named.`}>
      <Stack gap="md">
        <Group align="end">
          {all === null ? null : (
            <NativeSelect
              label="Birds"
              value={birds}
              onChange={(event) => setBirds(event.currentTarget.value as 'approved' | 'all')}
              data={[
                { value: 'approved', label: `Catalogued (${approved})` },
                { value: 'all', label: `All accepted (${all})` },
              ]}
            />
          )}
          {mayExact ? (
            <NativeSelect
              label="Places"
              value={places}
              onChange={(event) => setPlaces(event.currentTarget.value as 'shared' | 'exact')}
              data={[
                { value: 'shared', label: 'For sharing: sensitive ones coarsened' },
                { value: 'exact', label: 'Exact, for this house only' },
              ]}
            />
          ) : null}
          <TextInput
            label="Changed since"
            type="date"
            value={since}
            onChange={(event) => setSince(event.currentTarget.value)}
          />
        </Group>
        <DataList
          label="Exports"
          columns={[
            { id: 'name', head: 'File', cell: (form: ExportForm) => FORMS[form].name },
            { id: 'holds', head: 'What it holds', cell: (form) => FORMS[form].holds },
            {
              id: 'take',
              head: 'Take it',
              cell: (form) => (
                <Anchor href={address(form)} download>
                  Download
                </Anchor>
              ),
            },
          ]}
          rows={forms}
          rowId={(form) => form}
        />
        {all === null ? null : (
          <p>
            <Anchor component={Link} href={paths.quality}>
              Look at the quality report before you release it
            </Anchor>
          </p>
        )}
      </Stack>
    </Section>
  );
}
