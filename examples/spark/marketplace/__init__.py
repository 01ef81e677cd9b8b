"""A marketplace prices its catalogue: Floodbar inside Spark. request, price and tables run on the workers, and import no Spark."""
