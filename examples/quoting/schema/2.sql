-- Version 2: a quote can be sent, and stays as it is from then on; a new revision stands beside it.

ALTER TABLE quotes ADD COLUMN sent_on TEXT;

CREATE TRIGGER sent_quote_changed BEFORE UPDATE ON quotes WHEN OLD.sent_on IS NOT NULL
BEGIN SELECT raise(ABORT, 'a sent quote stays as it is: make a new revision'); END;
CREATE TRIGGER sent_quote_deleted BEFORE DELETE ON quotes WHEN OLD.sent_on IS NOT NULL
BEGIN SELECT raise(ABORT, 'a sent quote stays as it is: make a new revision'); END;
CREATE TRIGGER sent_line_changed BEFORE UPDATE ON quote_lines
WHEN EXISTS (SELECT 1 FROM quotes WHERE order_id = OLD.order_id AND revision = OLD.revision AND sent_on IS NOT NULL)
BEGIN SELECT raise(ABORT, 'a sent quote stays as it is: make a new revision'); END;
CREATE TRIGGER sent_line_deleted BEFORE DELETE ON quote_lines
WHEN EXISTS (SELECT 1 FROM quotes WHERE order_id = OLD.order_id AND revision = OLD.revision AND sent_on IS NOT NULL)
BEGIN SELECT raise(ABORT, 'a sent quote stays as it is: make a new revision'); END;
CREATE TRIGGER sent_line_added BEFORE INSERT ON quote_lines
WHEN EXISTS (SELECT 1 FROM quotes WHERE order_id = NEW.order_id AND revision = NEW.revision AND sent_on IS NOT NULL)
BEGIN SELECT raise(ABORT, 'a sent quote stays as it is: make a new revision'); END;

-- The last revision of each quote.
CREATE VIEW latest_quotes AS
SELECT * FROM quotes
WHERE revision = (SELECT max(revision) FROM quotes AS others WHERE others.order_id = quotes.order_id);
