-- CreateTable
CREATE TABLE "SignInSession" (
    "id" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "turn" INTEGER NOT NULL DEFAULT 0,
    "startedAt" TIMESTAMPTZ(3) NOT NULL,
    "turnedAt" TIMESTAMPTZ(3) NOT NULL,
    "lastUsedAt" TIMESTAMPTZ(3) NOT NULL,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "SignInSession_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "SignInSession_personId_idx" ON "SignInSession"("personId");

-- CreateIndex
CREATE INDEX "SignInSession_lastUsedAt_idx" ON "SignInSession"("lastUsedAt");

-- AddForeignKey
ALTER TABLE "SignInSession" ADD CONSTRAINT "SignInSession_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
