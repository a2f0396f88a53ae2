'use client';

import { ActionIcon, Button, Checkbox, Group, Popover, Stack, Text, TextInput } from '@mantine/core';
import { IconTrash } from '@tabler/icons-react';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Link } from '@/components/ui/link';
import { problemOf } from '@/components/ui/problem';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import { useDropView, useKeepView, viewsOptions } from './queries';

/** Searches kept under a name: one's own and those that colleagues share; and the present one to be kept. */
export function ViewsPopover({ search }: { search: string }) {
  const views = useQuery(viewsOptions());
  const drop = useDropView();
  return (
    <Popover defaultOpened position="bottom-end" withinPortal trapFocus>
      <Popover.Target>
        <Button variant="default">{say('Saved views')}</Button>
      </Popover.Target>
      <Popover.Dropdown>
        <Stack gap="sm" w={300}>
          {(views.data?.views ?? []).map((view) => (
            <Group key={view.id} justify="space-between" wrap="nowrap">
              <div>
                <Link href={`${paths.catalogue}?${view.query}`}>{view.name}</Link>
                {view.own ? null : <Text size="sm">{say('shared by a colleague')}</Text>}
              </div>
              {view.own ? (
                <ActionIcon
                  variant="subtle"
                  aria-label={say('Remove the view {name}', { name: view.name })}
                  loading={drop.isPending && drop.variables === view.id}
                  onClick={() => drop.mutate(view.id)}
                >
                  <IconTrash size={18} stroke={1.5} aria-hidden="true" />
                </ActionIcon>
              ) : null}
            </Group>
          ))}
          {views.data?.views.length === 0 ? <Text size="sm">{say('No view is kept yet.')}</Text> : null}
          <KeepView search={search} />
        </Stack>
      </Popover.Dropdown>
    </Popover>
  );
}

function KeepView({ search }: { search: string }) {
  const keep = useKeepView();
  const [name, setName] = useState('');
  const [shared, setShared] = useState(false);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    keep.mutate({ name, query: search, shared }, { onSuccess: () => setName('') });
  };
  return (
    <form onSubmit={submit}>
      <Stack gap="xs">
        <TextInput
          label={say('Keep this search as')}
          value={name}
          maxLength={80}
          onChange={(event) => setName(event.currentTarget.value)}
          error={keep.error === null ? undefined : problemOf(keep.error).title}
        />
        <Checkbox
          label={say('Colleagues see it too')}
          checked={shared}
          onChange={(event) => setShared(event.currentTarget.checked)}
        />
        <Button type="submit" variant="default" disabled={name.trim() === ''} loading={keep.isPending}>
          {say('Keep it')}
        </Button>
      </Stack>
    </form>
  );
}
