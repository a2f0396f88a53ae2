-- CreateTable
CREATE TABLE "LoanLink" (
    "id" UUID NOT NULL,
    "collectionId" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "tokenDigest" TEXT NOT NULL,
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "revokedAt" TIMESTAMPTZ(3),
    "revokedById" UUID,
    "loanId" UUID,
    "sentAt" TIMESTAMPTZ(3),
    "requestKey" UUID,
    "wanted" JSONB NOT NULL DEFAULT '[]',

    CONSTRAINT "LoanLink_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "LoanLink_tokenDigest_key" ON "LoanLink"("tokenDigest");

-- CreateIndex
CREATE UNIQUE INDEX "LoanLink_loanId_key" ON "LoanLink"("loanId");

-- CreateIndex
CREATE INDEX "LoanLink_collectionId_createdAt_idx" ON "LoanLink"("collectionId", "createdAt");

-- AddForeignKey
ALTER TABLE "LoanLink" ADD CONSTRAINT "LoanLink_loanId_fkey" FOREIGN KEY ("loanId") REFERENCES "Loan"("id") ON DELETE SET NULL ON UPDATE CASCADE;

ALTER TABLE "LoanLink"
  ADD CONSTRAINT loan_link_ends CHECK ("expiresAt" > "createdAt"),
  ADD CONSTRAINT loan_link_is_used_whole CHECK (num_nulls("loanId", "sentAt", "requestKey") IN (0, 3)),
  ADD CONSTRAINT loan_link_wanted CHECK (jsonb_typeof(wanted) = 'array');

-- One request by one link: what was sent through it stays.
CREATE FUNCTION loan_link_is_used_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'FURCULA: This link was used already.' USING ERRCODE = 'FU001';
END $$;
CREATE TRIGGER loan_link_is_used_once BEFORE UPDATE OF "loanId", wanted, "requestKey" ON "LoanLink"
  FOR EACH ROW WHEN (OLD."loanId" IS NOT NULL) EXECUTE FUNCTION loan_link_is_used_once();
