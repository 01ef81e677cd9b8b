"""A Spark session whose executors find this package."""

import contextlib
import os
import sys
import tempfile
import zipfile
from pathlib import Path

from pyspark.sql import SparkSession

SETTINGS = {
    "spark.ui.enabled": "false",
    "spark.ui.showConsoleProgress": "false",
    "spark.driver.memory": "1g",
    # Folders named as numbers are names of shops all the same.
    "spark.sql.sources.partitionColumnTypeInference.enabled": "false",
    # A task's files move into the table when the job as a whole commits, so that an attempt which is not the one that counts leaves none.
    "spark.hadoop.mapreduce.fileoutputcommitter.algorithm.version": "1",
    "spark.sql.execution.arrow.maxRecordsPerBatch": "2000",
    # The cache of a Python worker lives as long as its process.
    "spark.python.worker.reuse": "true",
}


@contextlib.contextmanager
def session(master, speculation=False, settings=()):
    """A session on that master, stopped in the end. `settings` are further pairs of names and values, which go before those here."""
    with tempfile.TemporaryDirectory(prefix="spark-", ignore_cleanup_errors=True) as folder:
        # Executors on this machine run the Python of this environment; on others the same path must be there.
        os.environ.setdefault("PYSPARK_PYTHON", sys.executable)
        # Otherwise the workers of a local cluster write their logs into the installed package.
        os.environ.setdefault("SPARK_WORKER_DIR", folder)
        builder = SparkSession.builder.appName("catalogue prices").master(master)
        for name, value in {**SETTINGS, "spark.speculation": str(speculation).lower(), **dict(settings)}.items():
            builder = builder.config(name, value)
        spark = builder.getOrCreate()
        try:
            spark.sparkContext.setLogLevel("ERROR")
            spark.sparkContext.addPyFile(_zipped(Path(__file__).parent, folder))
            yield spark
        finally:
            spark.stop()


def _zipped(package, folder):
    path = f"{folder}/{package.name}.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for file in sorted(package.glob("*.py")):
            archive.write(file, f"{package.name}/{file.name}")
    return path
