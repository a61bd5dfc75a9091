#!/bin/sh
# Runs once, when the database's volume is new: the role under which the web processes run. It owns nothing; "migrate --for drainboard_service"
# gives it what the service needs, and that is not the right to alter the record.
set -eu
password=$(cat /run/secrets/service-password)
psql -v ON_ERROR_STOP=1 -v password="$password" -U "$POSTGRES_USER" -d "$POSTGRES_DB" <<'SQL'
CREATE ROLE drainboard_service LOGIN PASSWORD :'password';
SQL
