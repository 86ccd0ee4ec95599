"""The JSON Schema of a design file (draft 2020-12), from the declarations the reader uses.

Editors use it for completion and hints. It is a little wider than the reader, which also
knows which names exist and what can't be true together.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from fitout.design_file.layout import FileSpec
from fitout.design_file.shapes import (
    Anything,
    Choice,
    Day,
    DaysText,
    Entry,
    Fixed,
    Flag,
    ListOf,
    Mapped,
    MeasuredLength,
    Number,
    OneOf,
    Section,
    Shape,
    SizeText,
    Whole,
    Words,
    entries_of,
    reference_words,
    takes_fit,
)
from fitout.design_file.units import EXAMPLES, WORDS
from fitout.model.design import ROLE_DOCS, ModuleSpec
from fitout.model.spec import Quantity

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
HAS_DIGIT = "[0-9½¼¾⅛⅜⅝⅞]"


def schema(specs: Mapping[str, type[ModuleSpec]]) -> Schema:
    """The schema of design files whose modules are of the kinds in `specs`."""
    definitions: dict[str, Schema] = {}
    top = _section(FileSpec, definitions)
    definitions.pop(FileSpec.__name__, None)
    definitions[ModuleSpec.__name__] = _module(specs)
    for kind, spec in specs.items():
        definitions[_module_name(kind)] = _section(spec, definitions, kind)
    return {
        "$schema": DIALECT,
        "title": "fitout design",
        **top,
        "$defs": dict(sorted(definitions.items())),
    }


def schema_text(specs: Mapping[str, type[ModuleSpec]]) -> str:
    """The schema as the file the package ships."""
    return json.dumps(schema(specs), indent=1, ensure_ascii=False) + "\n"


def _module_name(kind: str) -> str:
    return f"module {kind}"


def _module(specs: Mapping[str, type[ModuleSpec]]) -> Schema:
    """Any module: its kind decides which entries it takes."""
    return {
        "type": "object",
        "required": ["kind"],
        "properties": {"kind": {"enum": list(specs), "description": "what sort of module it is"}},
        "allOf": [
            {
                "if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]},
                "then": {"$ref": _pointer(_module_name(kind))},
            }
            for kind in specs
        ],
    }


def _section(record: type[Any], definitions: dict[str, Schema], kind: str = "") -> Schema:
    properties: dict[str, Schema] = {}
    if kind:
        properties["kind"] = {"const": kind}
    entries = entries_of(record)
    for entry in entries:
        properties[entry.key] = _entry(entry, definitions, in_module=bool(kind))
    result: Schema = {"type": "object"}
    doc = (record.__doc__ or "").split("\n\n")[0].strip()
    if doc:
        result["description"] = doc
    result["properties"] = properties
    required = (["kind"] if kind else []) + [entry.key for entry in entries if entry.required]
    if required:
        result["required"] = required
    result["additionalProperties"] = False
    return result


def _entry(entry: Entry, definitions: dict[str, Schema], *, in_module: bool) -> Schema:
    result = _shape(entry.shape, definitions)
    description = entry.doc
    if entry.example:
        description += f", for example {entry.example}"
    left_out = entry.otherwise or _spelled(entry.default)
    if not entry.required:
        options = result.pop("anyOf", None) or [result]
        if in_module and takes_fit(entry.shape):
            options = [*options, {"const": "fit"}]
        result = {"anyOf": [*options, {"type": "null"}]}
        if left_out:
            description += f" ({left_out} if left out)"
    return {"description": description, **result}


def _spelled(default: Any) -> str:
    """A default as a builder would write it; nothing where it is no single value."""
    if isinstance(default, bool):
        return "yes" if default else "no"
    if isinstance(default, int | float):
        return f"{default:g}"
    return default if isinstance(default, str) else ""


def _shape(shape: Shape, definitions: dict[str, Schema]) -> Schema:
    match shape:
        case ListOf(member, some):
            least = {"minItems": 1} if some else {}
            return {"type": "array", "items": _shape(member, definitions), **least}
        case Fixed(members):
            prefix = [_shape(member, definitions) for member in members]
            count = len(members)
            return {"type": "array", "prefixItems": prefix, "minItems": count, "maxItems": count}
        case Mapped(key, value):
            return {
                "type": "object",
                "propertyNames": _key(key),
                "additionalProperties": _shape(value, definitions),
            }
        case Section(record):
            _define(record, definitions)
            return {"$ref": _pointer(record.__name__)}
        case OneOf(options, optional):
            choices = [_shape(option, definitions) for option in options]
            return {"anyOf": [*choices, *([{"type": "null"}] if optional else [])]}
        case _:
            return _scalar(shape)


def _define(record: type[Any], definitions: dict[str, Schema]) -> None:
    if record.__name__ in definitions or record is ModuleSpec:
        return
    definitions[record.__name__] = {}
    definitions[record.__name__] = _section(record, definitions)


def _scalar(shape: Shape) -> Schema:
    match shape:
        case Number(quantity):
            return _number(quantity)
        case MeasuredLength(quantity):
            return _number(quantity)
        case SizeText():
            return {"type": "string", "pattern": "[x×X*].*[x×X*]"}
        case Whole(quantity):
            return {"type": "integer", **(_bounds(quantity) if quantity else {})}
        case Flag():
            return {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]}
        case Choice(values):
            return {"enum": list(values)}
        case Day():
            return {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
        case DaysText():
            pattern = "^[0-9]+( *(-|–|to) *[0-9]+)?$"
            return {
                "anyOf": [{"type": "integer", "minimum": 1}, {"type": "string", "pattern": pattern}]
            }
        case Words(table):
            return {"type": ["string", "number"], **_about(table)}
        case _:
            assert isinstance(shape, Anything)
            return {}


def _about(table: str) -> Schema:
    return {"description": reference_words(table)} if table else {}


def _number(quantity: Quantity) -> Schema:
    text: Schema = {"type": "string", "pattern": HAS_DIGIT}
    text["description"] = f"{WORDS[quantity.unit]}, such as {EXAMPLES[quantity.unit]}"
    return {"anyOf": [{"type": "number", **_bounds(quantity)}, text]}


def _bounds(quantity: Quantity) -> Schema:
    bounds = {
        "minimum": quantity.least,
        "maximum": quantity.most,
        "exclusiveMinimum": quantity.above,
    }
    return {name: value for name, value in bounds.items() if value is not None}


def _key(shape: Shape) -> Schema:
    """What the names of a mapping may be; in JSON they are all text."""
    match shape:
        case Choice(values):
            return {"enum": list(values)}
        case Number():
            return {"pattern": HAS_DIGIT}
        case Words("boards"):
            return {"anyOf": [{"const": r, "description": d} for r, d in ROLE_DOCS.items()]}
        case _:
            return {"minLength": 1}


def _pointer(name: str) -> str:
    return f"#/$defs/{name.replace(' ', '%20')}"
