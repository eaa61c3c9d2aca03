"""Reports of `check`, held against schemas by the library jsonschema.

reports.py SCHEMA REPORT SARIF: SCHEMA is the one in docs/. What SARIF 2.1.0 asks of the parts that we write is below, after
sections 3.13 to 3.33 of the OASIS standard (from memory; the published schema is not kept here, for its licence is unclear).
"""

import json
import sys

from jsonschema import Draft202012Validator

TEXT = {"type": "object", "required": ["text"], "properties": {"text": {"type": "string", "minLength": 1}}}
URI = {"type": "string", "pattern": r"^[A-Za-z0-9/._~%-]+$"}
REGION = {
    "type": "object",
    "required": ["startLine", "startColumn"],
    "properties": {"startLine": {"type": "integer", "minimum": 1}, "startColumn": {"type": "integer", "minimum": 1}},
    "additionalProperties": False,
}
PHYSICAL = {
    "type": "object",
    "required": ["artifactLocation", "region"],
    "properties": {
        "artifactLocation": {
            "type": "object",
            "required": ["uri"],
            "properties": {"uri": URI},
            "additionalProperties": False,
        },
        "region": REGION,
    },
    "additionalProperties": False,
}
LOGICAL = {
    "type": "object",
    "required": ["name", "fullyQualifiedName"],
    "properties": {"name": {"type": "string"}, "fullyQualifiedName": {"type": "string"}},
    "additionalProperties": False,
}
RESULT = {
    "type": "object",
    "required": ["ruleId", "level", "message", "locations"],
    "properties": {
        "ruleId": {"type": "string"},
        "level": {"enum": ["none", "note", "warning", "error"]},
        "message": TEXT,
        "locations": {
            "type": "array",
            "items": {
                "type": "object",
                "properties": {
                    "physicalLocation": PHYSICAL,
                    "logicalLocations": {"type": "array", "items": LOGICAL, "uniqueItems": True},
                },
                "additionalProperties": False,
            },
        },
        "occurrenceCount": {"type": "integer", "minimum": 1},
        "properties": {"type": "object"},
    },
    "additionalProperties": False,
}
RULE = {
    "type": "object",
    "required": ["id"],
    "properties": {"id": {"type": "string"}, "shortDescription": TEXT, "help": TEXT},
    "additionalProperties": False,
}
DRIVER = {
    "type": "object",
    "required": ["name"],
    "properties": {
        "name": {"type": "string"},
        "version": {"type": "string"},
        "rules": {"type": "array", "items": RULE, "uniqueItems": True},
    },
    "additionalProperties": False,
}
RUN = {
    "type": "object",
    "required": ["tool", "results"],
    "properties": {
        "tool": {"type": "object", "required": ["driver"], "properties": {"driver": DRIVER}},
        "columnKind": {"enum": ["utf16CodeUnits", "unicodeCodePoints"]},
        "results": {"type": "array", "items": RESULT},
    },
    "additionalProperties": False,
}
LOG = {
    "type": "object",
    "required": ["version", "runs"],
    "properties": {"version": {"const": "2.1.0"}, "runs": {"type": "array", "items": RUN}},
    "additionalProperties": False,
}


def read(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def faults(schema, value):
    Draft202012Validator.check_schema(schema)
    return [f"{list(fault.path)}: {fault.message[:200]}" for fault in Draft202012Validator(schema).iter_errors(value)]


schema, report, log = (read(path) for path in sys.argv[1:])
for fault in faults(schema, report) + faults(LOG, log):
    print("fault:", fault)
findings = [finding for cover in report["covers"] for finding in cover["findings"]] + report["templates"]
results = log["runs"][0]["results"]
print("findings", len(findings), len(results))
# Every property that the schema knows was met, so that none of it is idle.
met = {name for finding in findings for name in finding}
print("never met:", sorted(set(schema["$defs"]["finding"]["properties"]) - met))
# What the schema does not know, it refuses.
spoilt = json.loads(json.dumps(report))
spoilt["covers"][0]["findings"][0]["severity"] = "fatal"
print("refuses", len(faults(schema, spoilt)))
