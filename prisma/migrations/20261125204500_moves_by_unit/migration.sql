-- A box map asks who was here last and is away: without this it read every move of the installation.
CREATE INDEX "MaterialMove_toUnitId_idx" ON "MaterialMove"("toUnitId");
