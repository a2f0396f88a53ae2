'use client';

import { Anchor, Code } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { z } from 'zod';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import { callApi } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';
import { exchangeKeys } from './queries';
import { WebhookReference } from './webhook-reference';

const documentShape = z.object({
  info: z.object({ description: z.string() }),
  paths: z.record(
    z.string(),
    z.record(
      z.string(),
      z.object({
        operationId: z.string(),
        summary: z.string(),
        tags: z.array(z.string()),
        parameters: z.array(z.object({ name: z.string(), in: z.string() })).default([]),
        requestBody: z.object({ content: z.record(z.string(), z.unknown()) }).optional(),
      }),
    ),
  ),
});

type Operation = { id: string; stage: string; method: string; path: string; needs: string; takes: string };

function listOperations(document: z.infer<typeof documentShape>): Operation[] {
  return Object.entries(document.paths).flatMap(([path, item]) =>
    Object.entries(item).map(([method, one]) => ({
      id: one.operationId,
      stage: one.tags[0] ?? '',
      method: method.toUpperCase(),
      path,
      needs: one.summary.replace(/^Needs /, ''),
      takes: [
        ...one.parameters.filter((part) => part.in === 'query').map((part) => part.name),
        ...(one.requestBody === undefined ? [] : [Object.keys(one.requestBody.content)[0] ?? say('a body')]),
      ].join(', '),
    })),
  );
}

/** Every address of the API with what it needs and takes, from the document that describes itself. */
export function ApiReference() {
  const document = useQuery({
    queryKey: exchangeKeys.api,
    queryFn: ({ signal }) => callApi('/api/openapi.json', { schema: documentShape, signal }),
    staleTime: Number.POSITIVE_INFINITY,
  });
  if (document.error) return <ErrorState error={document.error} onRetry={() => void document.refetch()} />;
  if (document.data === undefined)
    return <Loading what={say('Loading the description of the API')} lines={8} />;
  const operations = listOperations(document.data);
  const stages = [...new Set(operations.map((one) => one.stage))].sort();
  return (
    <>
      <ListHead title="API" intro={document.data.info.description} />
      <p>
        {sayWith('{anchor} holds every field of every request and answer; {anchor2} are addresses too.', {
          anchor: <Anchor href="/api/openapi.json">{say('The whole description (OpenAPI 3.1)')}</Anchor>,
          anchor2: <Anchor href={paths.exchange}>{say('exports')}</Anchor>,
        })}
      </p>
      <Code block>{say('curl -H "Authorization: Bearer $TOKEN" https://your-address/api/catalogue')}</Code>
      <WebhookReference />
      {stages.map((stage) => (
        <Section key={stage} id={`stage-${stage}`} title={sayWord(stage)}>
          <DataList<Operation>
            label={say('Addresses of {stage}', { stage })}
            columns={[
              {
                id: 'address',
                head: say('Address'),
                cell: (row) => <Code>{`${row.method} ${row.path}`}</Code>,
              },
              { id: 'needs', head: say('Needs'), cell: (row) => row.needs },
              { id: 'takes', head: say('Takes'), deskOnly: true, cell: (row) => row.takes },
            ]}
            rows={operations.filter((one) => one.stage === stage)}
            rowId={(row) => row.id}
          />
        </Section>
      ))}
    </>
  );
}
