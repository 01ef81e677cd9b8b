-- Version 1: what the shop has, what it was asked for, and what it answered. Money of a quote is in whole minor units, never REAL.

-- The shop that prints, as job.quote takes it.
CREATE TABLE shop (one INTEGER PRIMARY KEY CHECK (one = 1), shop TEXT NOT NULL CHECK (json_valid(shop))) STRICT;

-- Its presses, and what an hour of each costs without people.
CREATE TABLE presses (name TEXT PRIMARY KEY, press TEXT NOT NULL CHECK (json_valid(press)), rate TEXT NOT NULL) STRICT;

-- What things cost the shop and how its prices are made, as job.quote takes them; the last version is in force.
CREATE TABLE rates (
    version INTEGER PRIMARY KEY, currency TEXT NOT NULL, rates TEXT NOT NULL CHECK (json_valid(rates)),
    price TEXT NOT NULL CHECK (json_valid(price)), valid_days INTEGER NOT NULL
) STRICT;

-- Blanks that can be bought: money as decimal text, since it is only handed on.
CREATE TABLE garments (
    name TEXT PRIMARY KEY, shade TEXT NOT NULL CHECK (shade IN ('light', 'dark')), cloth TEXT NOT NULL CHECK (json_valid(cloth)),
    blank TEXT NOT NULL, by_size TEXT NOT NULL CHECK (json_valid(by_size))
) STRICT;

-- The shop's inks: what each is made from, and what it costs.
CREATE TABLE inks (colour TEXT PRIMARY KEY, ink TEXT NOT NULL CHECK (json_valid(ink)), rate TEXT NOT NULL) STRICT;

-- The request as the customer gave it, even if it is no JSON at all; beside it what the order desk noted.
CREATE TABLE orders (
    id INTEGER PRIMARY KEY, customer TEXT NOT NULL, garment TEXT, press TEXT NOT NULL REFERENCES presses (name),
    rush INTEGER NOT NULL DEFAULT 0, tax_exempt INTEGER NOT NULL DEFAULT 0, request TEXT NOT NULL,
    state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'quoted', 'refused'))
) STRICT;
CREATE INDEX open_orders ON orders (id) WHERE state = 'open';

CREATE TABLE quotes (
    order_id INTEGER NOT NULL REFERENCES orders (id), revision INTEGER NOT NULL,
    request_sha256 TEXT NOT NULL, rates_version INTEGER NOT NULL REFERENCES rates (version), valid_until TEXT NOT NULL,
    pieces INTEGER NOT NULL, press TEXT NOT NULL, setup_seconds INTEGER NOT NULL, run_seconds INTEGER NOT NULL,
    currency TEXT NOT NULL, unit_price INTEGER NOT NULL, cost INTEGER NOT NULL, before_tax INTEGER NOT NULL, tax INTEGER NOT NULL,
    total INTEGER NOT NULL, profit INTEGER NOT NULL, profit_per_press_hour INTEGER, stop TEXT,
    PRIMARY KEY (order_id, revision)
) STRICT, WITHOUT ROWID;

-- What the customer is charged (side price: adds up to the total) and what the order costs (side cost: adds up to the cost).
CREATE TABLE quote_lines (
    order_id INTEGER NOT NULL, revision INTEGER NOT NULL, line INTEGER NOT NULL,
    side TEXT NOT NULL CHECK (side IN ('price', 'cost')), what TEXT NOT NULL, amount INTEGER NOT NULL,
    PRIMARY KEY (order_id, revision, line),
    FOREIGN KEY (order_id, revision) REFERENCES quotes (order_id, revision) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

-- Ink by colour: what must stand ready, and what is used up of it.
CREATE TABLE ink_demand (
    order_id INTEGER NOT NULL, revision INTEGER NOT NULL, line INTEGER NOT NULL,
    colour TEXT NOT NULL, ink TEXT NOT NULL, ready_milligrams INTEGER NOT NULL, used_milligrams INTEGER NOT NULL,
    PRIMARY KEY (order_id, revision, line),
    FOREIGN KEY (order_id, revision) REFERENCES quotes (order_id, revision) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE refused (
    order_id INTEGER PRIMARY KEY REFERENCES orders (id), code TEXT NOT NULL, field TEXT NOT NULL, message TEXT NOT NULL
) STRICT;

-- Each order with the shop's part joined in: a whole request of job.quote; NULL where the order is no JSON object.
CREATE VIEW requests AS
SELECT
    orders.id AS order_id, rates.version AS rates_version, rates.valid_days,
    CASE WHEN json_valid(orders.request) THEN CASE WHEN json_type(orders.request) = 'object' THEN json_set(
        orders.request,
        '$.shop', json_set(shop.shop, '$.press', json(coalesce(presses.press, json_quote(orders.press)))),
        '$.rates', json_set(
            rates.rates,
            '$.press', presses.rate,
            '$.blank', garments.blank,
            '$.blank_by_size', json(garments.by_size),
            '$.ink_by_name', (SELECT json_group_array(json_object('ink', colour, 'rate', rate)) FROM inks)
        ),
        '$.price', json_remove(
            rates.price,
            iif(orders.rush, '$.none', '$.rush_fraction'),
            iif(orders.tax_exempt, '$.tax_fraction', '$.none'),
            iif(orders.tax_exempt, '$.prices_include_tax', '$.none')
        ),
        '$.currency', rates.currency,
        '$.valid_days', rates.valid_days,
        '$.explain', json('false')
    ) END END AS request
FROM orders
JOIN shop
JOIN rates ON rates.version = (SELECT max(version) FROM rates)
LEFT JOIN presses ON presses.name = orders.press
LEFT JOIN garments ON garments.name = orders.garment;
