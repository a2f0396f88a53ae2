'use client';

import { Button, Checkbox, Popover, Stack } from '@mantine/core';
import { say } from '@/lib/platform/words/say';
import { CHOOSABLE, USUAL } from './search-columns';

/** Which columns the list shows; kept in the address, so that a link brings the same table. */
export function ColumnPopover({
  chosen,
  onChange,
}: {
  chosen: readonly string[];
  onChange: (columns: string[]) => void;
}) {
  return (
    <Popover defaultOpened position="bottom-end" withinPortal trapFocus>
      <Popover.Target>
        <Button variant="default">{say('Columns')}</Button>
      </Popover.Target>
      <Popover.Dropdown>
        <Stack gap="xs" role="group" aria-label={say('Columns of the list')}>
          {CHOOSABLE.map(({ id, label }) => (
            <Checkbox
              key={id}
              label={label}
              checked={chosen.includes(id)}
              onChange={(event) =>
                onChange(
                  CHOOSABLE.map((column) => column.id).filter((one) =>
                    one === id ? event.currentTarget.checked : chosen.includes(one),
                  ),
                )
              }
            />
          ))}
          <Button variant="default" onClick={() => onChange([...USUAL])}>
            {say('As usual')}
          </Button>
        </Stack>
      </Popover.Dropdown>
    </Popover>
  );
}
