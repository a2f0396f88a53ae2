'use client';

import { Anchor, Button, Group, NativeSelect, Stack, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { EXPORT_FORMS, type ExportForm, type ExportOverview, MATERIAL_FORMS } from '@/lib/exchange/schema';
import { queryString } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { phrases, say } from '@/lib/platform/words/say';
import { ImportList } from './import-list';
import { overviewOptions } from './queries';

const FORMS: Record<ExportForm, { name: string; holds: string }> = phrases({
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
});

/** What leaves the house and what comes in. */
export function ExchangePage() {
  const overview = useQuery(overviewOptions());
  if (overview.error) return <ErrorState error={overview.error} onRetry={() => void overview.refetch()} />;
  if (overview.data === undefined) return <Loading what={say('Loading what can be exchanged')} lines={6} />;
  const { mayImport, mayTokens, mayWebhooks } = overview.data;
  return (
    <>
      <ListHead
        title={say('Imports and exports')}
        intro={say('Data goes out in the open standards of the field, and comes in from any table.')}
        acts={
          <>
            <Button component={Link} href={paths.apiReference} variant="default">
              {say('API')}
            </Button>
            {mayTokens ? (
              <Button component={Link} href={paths.tokens} variant="default">
                {say('Tokens')}
              </Button>
            ) : null}
            {mayWebhooks ? (
              <Button component={Link} href={paths.webhooks} variant="default">
                {say('Webhooks')}
              </Button>
            ) : null}
          </>
        }
      />
      <Exports overview={overview.data} />
      {mayImport ? (
        <Section
          id="imports"
          title={say('Imports')}
          note={say(
            'CSV or Excel sheets of earlier birds. Everything is checked before anything is made, and an import can be taken back.',
          )}
        >
          <ImportList />
        </Section>
      ) : null}
    </>
  );
}

function describeCoarse({ generalised, all }: ExportOverview): string {
  const coarse = say('given with a coarse place, and the file says so.');
  if (all === null) return say('Every bird is {coarse}', { coarse });
  if (generalised === 0) return say('Birds of sensitive taxa are {coarse} There are none now.', { coarse });
  return say('Birds of sensitive taxa ({generalised}) are {coarse}', { generalised, coarse });
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
    <Section
      id="exports"
      title={say('Exports')}
      note={say('{coarse} Finders are never named.', { coarse: describeCoarse(overview) })}
    >
      <Stack gap="md">
        <Group align="end">
          {all === null ? null : (
            <NativeSelect
              label={say('Birds')}
              value={birds}
              onChange={(event) => setBirds(event.currentTarget.value as 'approved' | 'all')}
              data={[
                { value: 'approved', label: say('Catalogued ({approved})', { approved }) },
                { value: 'all', label: say('All accepted ({all})', { all }) },
              ]}
            />
          )}
          {mayExact ? (
            <NativeSelect
              label={say('Places')}
              value={places}
              onChange={(event) => setPlaces(event.currentTarget.value as 'shared' | 'exact')}
              data={[
                { value: 'shared', label: say('For sharing: sensitive ones coarsened') },
                { value: 'exact', label: say('Exact, for this house only') },
              ]}
            />
          ) : null}
          <TextInput
            label={say('Changed since')}
            type="date"
            value={since}
            onChange={(event) => setSince(event.currentTarget.value)}
          />
        </Group>
        <DataList
          label={say('Exports')}
          columns={[
            { id: 'name', head: say('File'), cell: (form: ExportForm) => FORMS[form].name },
            { id: 'holds', head: say('What it holds'), cell: (form) => FORMS[form].holds },
            {
              id: 'take',
              head: say('Take it'),
              cell: (form) => (
                <Anchor href={address(form)} download>
                  {say('Download')}
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
              {say('Look at the quality report before you release it')}
            </Anchor>
          </p>
        )}
      </Stack>
    </Section>
  );
}
