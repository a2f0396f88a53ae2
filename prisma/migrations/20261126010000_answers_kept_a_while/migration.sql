-- Answers to repeated commands are forgotten by age.
CREATE INDEX "IdempotencyKey_createdAt_idx" ON "IdempotencyKey" ("createdAt");
