# One image for the pages, the background work and the migrations; docker-compose.yml says which does what.
# Besides the base image only the npm registry is asked for anything.
FROM node:22-bookworm-slim AS build
WORKDIR /furcula
ENV NEXT_TELEMETRY_DISABLED=1
COPY package.json package-lock.json .npmrc ./
RUN npm ci --include=dev --no-audit --no-fund
COPY . .
RUN npm run build && npm prune --omit=dev && rm -rf .next/cache

FROM node:22-bookworm-slim
WORKDIR /furcula
# The pools of the C library and the growth of the heap as in lib/ops/web.ts.
ENV NODE_ENV=production NEXT_TELEMETRY_DISABLED=1 HOST=0.0.0.0 PORT=3000 FURCULA_DEMO=0 FURCULA_DATA=/data MALLOC_ARENA_MAX=2
COPY --from=build --chown=node:node /furcula .
RUN mkdir /data /backups && chown node:node /data /backups
USER node
VOLUME /data
EXPOSE 3000
CMD ["node", "--heap-growing-percent=20", "node_modules/next/dist/bin/next", "start", "--hostname", "0.0.0.0", "--port", "3000"]
