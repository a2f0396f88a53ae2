-- CreateTable
CREATE TABLE "Webhook" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "address" TEXT NOT NULL,
    "stages" TEXT[],
    "secret" TEXT NOT NULL,
    "active" BOOLEAN NOT NULL DEFAULT true,
    "givenUpInRow" INTEGER NOT NULL DEFAULT 0,
    "switchedOffAt" TIMESTAMPTZ(3),
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Webhook_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "WebhookDelivery" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "webhookId" UUID NOT NULL,
    "seq" BIGINT NOT NULL,
    "kind" TEXT NOT NULL,
    "subjectType" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "birdId" UUID,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "lastError" TEXT,
    "deliveredAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "WebhookDelivery_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "Webhook_collectionId_createdAt_idx" ON "Webhook"("collectionId", "createdAt");

-- CreateIndex
CREATE INDEX "WebhookDelivery_webhookId_createdAt_idx" ON "WebhookDelivery"("webhookId", "createdAt");

-- AddForeignKey
ALTER TABLE "WebhookDelivery" ADD CONSTRAINT "WebhookDelivery_webhookId_fkey" FOREIGN KEY ("webhookId") REFERENCES "Webhook"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------- what must never be false
ALTER TABLE "Webhook"
  ADD CONSTRAINT webhook_address CHECK (address ~ '^https?://'),
  ADD CONSTRAINT webhook_stages CHECK (cardinality(stages) > 0),
  ADD CONSTRAINT webhook_switched_off CHECK (active = ("switchedOffAt" IS NULL));
ALTER TABLE "WebhookDelivery"
  ADD CONSTRAINT webhook_delivery_state CHECK (state IN ('waiting', 'delivered', 'given-up')),
  ADD CONSTRAINT webhook_delivery_arrived CHECK ((state = 'delivered') = ("deliveredAt" IS NOT NULL));
-- An event is told once to an address; sending it again is the same delivery.
CREATE UNIQUE INDEX webhook_delivery_once ON "WebhookDelivery" ("webhookId", seq);

-- An event and what must be told of it are committed together, whoever wrote the event.
CREATE FUNCTION tell_webhooks() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  delivery uuid;
BEGIN
  FOR delivery IN
    INSERT INTO "WebhookDelivery" ("webhookId", seq, kind, "subjectType", "subjectId", "birdId", at)
    SELECT w.id, NEW.seq, NEW.kind, NEW."subjectType", NEW."subjectId", NEW."birdId", NEW.at FROM "Webhook" w
    WHERE w."collectionId" = NEW."collectionId" AND w.active AND split_part(NEW.kind, '.', 1) = ANY (w.stages)
    RETURNING id
  LOOP
    PERFORM graphile_worker.add_job('exchange.deliver-webhook', json_build_object('deliveryId', delivery));
  END LOOP;
  RETURN NULL;
END $$;
CREATE TRIGGER audit_event_tells_webhooks AFTER INSERT ON "AuditEvent" FOR EACH ROW EXECUTE FUNCTION tell_webhooks();
