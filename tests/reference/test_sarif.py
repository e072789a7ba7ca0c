"""The SARIF log against an outside object model of SARIF 2.1.0 (the library sarif-om).

Every property must be one the model knows for that object, and every one it requires is there.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import attr
import pytest
import sarif_om

from app.cli import main

# Which class of the model stands under a property; what is not listed is a plain value.
INNER = {
    "runs": sarif_om.Run, "tool": sarif_om.Tool, "driver": sarif_om.ToolComponent,
    "rules": sarif_om.ReportingDescriptor, "results": sarif_om.Result,
    "shortDescription": sarif_om.MultiformatMessageString,
    "fullDescription": sarif_om.MultiformatMessageString,
    "help": sarif_om.MultiformatMessageString,
    "defaultConfiguration": sarif_om.ReportingConfiguration,
    "message": sarif_om.Message, "locations": sarif_om.Location,
    "physicalLocation": sarif_om.PhysicalLocation,
    "artifactLocation": sarif_om.ArtifactLocation,
    "logicalLocations": sarif_om.LogicalLocation, "suppressions": sarif_om.Suppression,
}  # fmt: skip


def assert_fits(value: dict[str, Any], model: type) -> None:
    known = {field.metadata.get("schema_property_name", field.name): field
             for field in attr.fields(model)}
    assert set(value) <= set(known), model
    required = {name for name, field in known.items() if field.default is attr.NOTHING}
    assert required <= set(value), model
    for name, inner in value.items():
        if name in INNER:
            for one in inner if isinstance(inner, list) else [inner]:
                assert_fits(one, INNER[name])


@pytest.mark.parametrize("demo", ["weekend_sloop.loom", "steel_cutter.loom"])
def test_the_log_fits_the_object_model(demo, capsys):
    main(["check", str(files("assets").joinpath("demo", demo)), "--format", "sarif"])
    log = json.loads(capsys.readouterr().out)
    assert_fits(log, sarif_om.SarifLog)
    (run,) = log["runs"]
    known = {rule["id"] for rule in run["tool"]["driver"]["rules"]}
    assert run["results"] and {result["ruleId"] for result in run["results"]} <= known
    assert {result["level"] for result in run["results"]} <= {"none", "note", "warning", "error"}
