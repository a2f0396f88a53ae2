-- Administrators hear of webhooks that were switched off, the loans' staff of requests through links.
ALTER TABLE "Notice"
  DROP CONSTRAINT notice_kind,
  DROP CONSTRAINT notice_subject,
  ADD CONSTRAINT notice_kind CHECK (kind IN ('notices.mentioned', 'notices.commented', 'bench.returned', 'catalogue.approved',
    'queue.assigned', 'queue.claim-ending', 'queue.claim-ran-out', 'loans.due-soon', 'loans.overdue', 'loans.asked-by-link',
    'permits.expiring', 'permits.report-due', 'salvage.hold-placed', 'exchange.webhook-stopped')),
  ADD CONSTRAINT notice_subject CHECK ("subjectType" IN ('bird', 'salvage', 'bench-record', 'accession', 'permit', 'loan',
    'material', 'webhook'));
ALTER TABLE "NoticePreference"
  DROP CONSTRAINT notice_preference_kind,
  ADD CONSTRAINT notice_preference_kind CHECK (kind IN ('notices.mentioned', 'notices.commented', 'bench.returned',
    'catalogue.approved', 'queue.assigned', 'queue.claim-ending', 'queue.claim-ran-out', 'loans.due-soon', 'loans.overdue',
    'loans.asked-by-link', 'permits.expiring', 'permits.report-due', 'salvage.hold-placed', 'exchange.webhook-stopped'));
