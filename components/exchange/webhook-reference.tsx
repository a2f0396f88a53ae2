import { Code } from '@mantine/core';
import { Section } from '@/components/ui/facts';
import { DELIVERY_HEADER, SIGNATURE_HEADER, TIMESTAMP_HEADER } from '@/lib/exchange/webhooks/headers';
import { say } from '@/lib/platform/words/say';

const MESSAGE = `POST /your/address
${DELIVERY_HEADER}: 0198c1d2-…
${TIMESTAMP_HEADER}: 1764086400
${SIGNATURE_HEADER}: sha256=…

{"delivery": "…", "collectionId": "…", "seq": 1204, "kind": "catalogue.approved",
 "subjectType": "bird", "subjectId": "…", "birdId": "…", "at": "2026-11-25T16:00:00.000Z"}`;

/** How whoever is told of changes checks that a message is ours. */
export function WebhookReference() {
  return (
    <Section id="webhooks" title={say('Webhooks')}>
      <p>
        {say(
          'An administrator registers an address for the events of some stages. Each event is posted there as ids and kinds; ask the API for the rest.',
        )}
      </p>
      <Code block>{MESSAGE}</Code>
      <p>
        {say(
          'The signature is HMAC-SHA256, in hexadecimal, of the timestamp (seconds since 1970), a full stop and the body as it came, with the secret that was shown when the address was registered. Compute it yourself, compare in constant time, and refuse timestamps older than a few minutes. Answer 200 to 299 within 10 seconds; redirects are not followed. Anything else is tried again, ten times over some hours, so a message may come twice or late: its delivery id stays the same, and seq gives the order.',
        )}
      </p>
    </Section>
  );
}
