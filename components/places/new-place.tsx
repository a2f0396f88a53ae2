'use client';

import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { ListHead } from '@/components/ui/page-head';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import { NO_PLACE, PlaceForm, toRequest } from './place-form';
import { useAddPlace } from './queries';

/** Adds a named place. */
export function NewPlace() {
  const router = useRouter();
  const add = useAddPlace();
  const [fields, setFields] = useState(NO_PLACE);
  const [key] = useState(() => crypto.randomUUID());
  return (
    <>
      <ListHead
        title={say('Add a place')}
        intro={say('Write the coordinates as they stand; they are read while you type.')}
      />
      <PlaceForm
        fields={fields}
        onChange={setFields}
        error={add.error}
        busy={add.isPending}
        submit={say('Add the place')}
        onSubmit={() =>
          add.mutate(
            { ...toRequest(fields), key },
            { onSuccess: (made) => router.push(paths.place(made.id)) },
          )
        }
      />
    </>
  );
}
