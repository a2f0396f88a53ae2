'use client';

import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { Picker } from '@/components/ui/picker';
import { callApi, queryString } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import { type TaxonChoice, taxonChoices } from '@/lib/taxa/wire-choice';

const TYPING_MS = 250;

const sayChoice = ({ commonName, scientificName, foundAs }: TaxonChoice): string => {
  const name = commonName === null ? scientificName : `${commonName} (${scientificName})`;
  return foundAs === null ? name : say('{name}, found as {foundAs}', { name, foundAs });
};

/**
 * The bird's name as far as it is known: typed words, and the taxon when one of the checklist is chosen. Without a
 * connection, or for "some gull", the words alone are kept.
 */
export function TaxonPicker({
  taxonId,
  words,
  error,
  required = true,
  onChange,
}: {
  taxonId: string | null;
  words: string;
  error?: string;
  required?: boolean;
  onChange: (value: { taxonId: string | null; verbatimTaxon: string }) => void;
}) {
  const [asked] = useDebouncedValue(words.trim(), TYPING_MS);
  const search = useQuery({
    queryKey: ['taxa', 'search', asked],
    queryFn: ({ signal }) =>
      callApi(`/api/taxa/search${queryString({ q: asked })}`, { schema: taxonChoices, signal }),
    enabled: asked.length >= 2 && taxonId === null,
    retry: false,
  });
  const rows = taxonId === null && asked.length >= 2 ? (search.data?.rows ?? []) : [];
  const byWords = new Map(rows.map((row) => [sayChoice(row), row]));
  return (
    <Picker
      name="verbatimTaxon"
      label={say('What bird?')}
      help={
        taxonId === null
          ? say('Type a name and choose; or leave it as you would say it, "some gull".')
          : say('Chosen from the checklist.')
      }
      required={required}
      value={words}
      error={error}
      options={[...byWords.keys()]}
      onChange={(value) => {
        const chosen = byWords.get(value);
        onChange(
          chosen === undefined
            ? { taxonId: null, verbatimTaxon: value }
            : { taxonId: chosen.id, verbatimTaxon: chosen.commonName ?? chosen.scientificName },
        );
      }}
    />
  );
}
