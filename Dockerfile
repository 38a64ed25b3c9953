# One image for the processes that answer and those that work. No build step: Node runs the types away itself.
FROM node:24-slim
ENV NODE_ENV=production NODE_COMPILE_CACHE=/tmp/compile-cache
WORKDIR /desk
COPY package.json package-lock.json .npmrc ./
COPY src/commands/node-guard.mjs src/commands/node-guard.mjs
# The image has its own Node: the packaged ones are for machines that have an older one.
RUN npm ci --omit=dev --omit=optional && npm cache clean --force
COPY src src
COPY flows flows
COPY fixtures fixtures
RUN mkdir /data && chown node:node /data
USER node
ENV DATA_DIR=/data HOST=0.0.0.0 OPERATIONS_PORT=9464
EXPOSE 2020 9464
HEALTHCHECK --interval=10s --timeout=4s --start-period=30s --retries=3 \
  CMD ["node", "-e", "fetch('http://127.0.0.1:9464/readyz').then((r) => process.exit(r.ok ? 0 : 1), () => process.exit(1))"]
# Not through npm, which would keep the signal to stop from the process.
CMD ["node", "--max-semi-space-size=2", "src/main.mjs", "web"]
