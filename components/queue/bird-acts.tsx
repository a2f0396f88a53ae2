'use client';

import { Button, Group, Stack, Text } from '@mantine/core';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';
import type { QueueRow } from '@/lib/queue/wire';
import { BirdSharing } from './bird-sharing';
import { useBirdAct } from './queries';
import { TakeBeside } from './take-beside';

/** What this person may do with a bird of the queue now, or why not. */
export function BirdActs({ bird }: { bird: QueueRow }) {
  const act = useBirdAct();
  const { abilities, id } = bird;
  return (
    <Stack gap={4}>
      {bird.claimedBy === null ? null : (
        <Text size="sm">
          {bird.claimedBy.name}
          {bird.coWorker === null ? '' : say(' with {name}', { name: bird.coWorker.name })},{' '}
          {sayWord(bird.state).toLowerCase()}
          {bird.state === 'claimed' && bird.claimExpiresAt !== null
            ? sayWith(', until {moment}', { moment: <Moment at={bird.claimExpiresAt} /> })
            : null}
        </Text>
      )}
      <Group gap="xs">
        {abilities.take ? (
          <Button size="sm" loading={act.isPending} onClick={() => act.mutate({ id, act: 'take', body: {} })}>
            {say('Take this bird')}
          </Button>
        ) : null}
        {abilities.takeOut ? (
          <Button
            size="sm"
            variant="default"
            loading={act.isPending}
            onClick={() => act.mutate({ id, act: 'take-out', body: {} })}
          >
            {say('Out of the freezer')}
          </Button>
        ) : null}
        {abilities.putBack ? (
          <Button
            size="sm"
            variant="default"
            loading={act.isPending}
            onClick={() => act.mutate({ id, act: 'put-back', body: {} })}
          >
            {say('Put it back')}
          </Button>
        ) : null}
        {abilities.startBench ? (
          <Button size="sm" component={Link} href={paths.bench} variant="default">
            {say('To the bench')}
          </Button>
        ) : null}
      </Group>
      {abilities.takeBeside ? <TakeBeside bird={bird} /> : null}
      {abilities.handOver ? <BirdSharing bird={bird} /> : null}
      {abilities.obstacle === null ? null : <Text size="sm">{abilities.obstacle}</Text>}
      {act.error === null ? null : (
        <Text size="sm" role="alert" c="var(--f-stop)">
          {problemOf(act.error).title}
        </Text>
      )}
    </Stack>
  );
}
