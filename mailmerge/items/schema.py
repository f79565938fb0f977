"""The JSON Schema of ``report.json``, made from the models: ``python -m mailmerge.items.schema``.

It stands in ``templates/schemas`` for programs that read reports; a test holds it to the models.
"""

from __future__ import annotations

import json

from mailmerge.files import write_file
from mailmerge.items.record import SCHEMA, Report
from mailmerge.shelves import templates


def report_schema() -> str:
    """Return the schema as the text of its file."""
    schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **Report.model_json_schema(mode="serialization"),
        "title": f"report.json of mailmerge, schema {SCHEMA}",
    }
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    write_file(templates() / "schemas" / f"report-{SCHEMA}.json", report_schema().encode())
