'use client';

import { Combobox, TextInput, useCombobox } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { IconSearch } from '@tabler/icons-react';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { type KeyboardEvent, useState } from 'react';
import { TaxonName } from '@/components/ui/taxon-name';
import { sayWord } from '@/components/ui/words';
import { queryString } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { findOptions } from './queries';

const WAIT_MS = 150;
const EVERYTHING = 'search-everything';

/** The box in every page's head: a number typed or scanned opens its bird, anything else searches the catalogue. */
export function QuickFind({ seesBirds }: { seesBirds: boolean }) {
  const router = useRouter();
  const combobox = useCombobox({ onDropdownClose: () => combobox.resetSelectedOption() });
  const [text, setText] = useState('');
  const [asked] = useDebouncedValue(text.trim(), WAIT_MS);
  const find = useQuery(findOptions(asked));
  const hits = asked.length >= 2 ? (find.data?.hits ?? []) : [];

  const open = (address: string) => {
    setText('');
    combobox.closeDropdown();
    router.push(address);
  };
  const openBird = (birdId: string) => open(seesBirds ? paths.bird(birdId) : paths.catalogueEntry(birdId));
  const searchAll = () => open(`${paths.catalogue}${queryString({ q: text.trim() })}`);
  const onEnter = (event: KeyboardEvent) => {
    if (event.key !== 'Enter' || combobox.getSelectedOptionIndex() >= 0 || text.trim() === '') return;
    event.preventDefault();
    const whole = text.trim().toLowerCase();
    const exact = hits.filter(({ number, catalogueNumber }) =>
      [number, catalogueNumber].some((one) => one?.toLowerCase() === whole),
    );
    if (exact.length === 1 && exact[0] !== undefined) openBird(exact[0].birdId);
    else searchAll();
  };
  return (
    <Combobox
      store={combobox}
      onOptionSubmit={(value) => (value === EVERYTHING ? searchAll() : openBird(value))}
      withinPortal
    >
      <Combobox.Target>
        <TextInput
          aria-label="Find a bird by number, name or place"
          placeholder="Find a number, a name, a place"
          type="search"
          value={text}
          leftSection={<IconSearch size={18} stroke={1.5} aria-hidden="true" />}
          onChange={(event) => {
            setText(event.currentTarget.value);
            combobox.openDropdown();
            combobox.resetSelectedOption();
          }}
          onKeyDownCapture={onEnter}
          onBlur={() => combobox.closeDropdown()}
        />
      </Combobox.Target>
      <Combobox.Dropdown hidden={text.trim().length < 2}>
        <Combobox.Options>
          {hits.map((hit) => (
            <Combobox.Option key={hit.birdId} value={hit.birdId}>
              <b>{hit.catalogueNumber ?? hit.number}</b>{' '}
              <TaxonName scientific={hit.scientificName} common={hit.commonName} />,{' '}
              {sayWord(hit.stage).toLowerCase()}
            </Combobox.Option>
          ))}
          <Combobox.Option value={EVERYTHING}>Search everything for “{text.trim()}”</Combobox.Option>
        </Combobox.Options>
      </Combobox.Dropdown>
    </Combobox>
  );
}
