"""Every file of the export: who writes which.

A file joins by one line here; what loads heavy libraries is imported where it is used, so that
nothing but a build pays for it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from fitout.documents.dossier import Dossier
from fitout.model.module import Fitout

Files = Mapping[str, bytes]
"""Files by their path in the export folder."""

Source = TypeVar("Source", Fitout, Dossier)


@dataclass(frozen=True, slots=True)
class Document(Generic[Source]):
    """Some files of the export that are made together, and what a builder calls them."""

    name: str
    make: Callable[[Source], Files]


def _cut_files(dossier: Dossier) -> Files:
    from fitout.documents.cut_files import cut_files

    return cut_files(dossier.cuts, dossier.design.stock, dossier.design.name)


def _tables(dossier: Dossier) -> Files:
    from fitout.checks.restraint_rows import fixing_rows
    from fitout.checks.vehicle import laden_lines, states
    from fitout.documents.assembly import assembly_csv
    from fitout.documents.bill import bill_csv
    from fitout.documents.findings import findings_json
    from fitout.documents.fixing_table import fixings_csv
    from fitout.documents.ledger import ledger_csv, vehicle_csv
    from fitout.documents.tables import hardware_csv

    design, subject = dossier.design, dossier.subject
    files: dict[str, bytes] = {
        "assembly.csv": assembly_csv(dossier.steps),
        "bill.csv": bill_csv(dossier),
        "hardware.csv": hardware_csv(dossier.hardware, dossier.articles),
        "fixings.csv": fixings_csv(fixing_rows(subject)),
        "ledger.csv": ledger_csv(laden_lines(subject)),
        "findings.json": findings_json(design.name, dossier.findings, dossier.totals),
    }
    told = states(subject)
    if told is not None:
        files["vehicle.csv"] = vehicle_csv(told)
    return files


def _trips(dossier: Dossier) -> Files:
    if not dossier.design.trips:
        return {}
    from fitout.checks.trips import reports
    from fitout.documents.trip_table import trips_csv

    return {"trips.csv": trips_csv(reports(dossier.subject))}


def _overview(fitout: Fitout) -> Files:
    from fitout.documents.pictures import overview_svg

    return {"overview.svg": overview_svg(fitout)}


def _drawings(dossier: Dossier) -> Files:
    from fitout.documents.drawings.book import drawings_dxf, drawings_pages, drawings_pdf

    pages = drawings_pages(dossier)
    return {"drawings.pdf": drawings_pdf(dossier, pages), **drawings_dxf(dossier, pages)}


def _guide(dossier: Dossier) -> Files:
    from fitout.documents.guide.book import assembly_pdf

    return {"assembly.pdf": assembly_pdf(dossier)}


def _report(dossier: Dossier) -> Files:
    from fitout.documents.report import report_html

    return {"report.html": report_html(dossier)}


def _glb(dossier: Dossier) -> Files:
    from fitout.documents.glb import assembly_glb

    return {"assembly.glb": assembly_glb(dossier)}


def _labels(dossier: Dossier) -> Files:
    from fitout.documents.labels.book import labels_pdf

    return {"labels.pdf": labels_pdf(dossier)}


def _templates(dossier: Dossier) -> Files:
    from fitout.documents.templates.book import templates_pdf

    return {"templates.pdf": templates_pdf(dossier)}


def _step(fitout: Fitout) -> Files:
    from fitout.documents.step import assembly_step

    return {"assembly.step": assembly_step(fitout)}


OF_THE_FITOUT: tuple[Document[Fitout], ...] = (
    Document("overview", _overview),
    Document("assembly.step", _step),
)
"""What can be made before the sheets are nested."""

OF_THE_DOSSIER: tuple[Document[Dossier], ...] = (
    Document("drawings", _drawings),
    Document("report", _report),
    Document("assembly.glb", _glb),
    Document("tables", _tables),
    Document("trips", _trips),
    Document("labels", _labels),
    Document("templates", _templates),
    Document("cut files", _cut_files),
    Document("assembly guide", _guide),
)
"""In the order they are made by one alone: what takes long stands at both ends, since others
begin at the end (`fitout.documents.crew`)."""
