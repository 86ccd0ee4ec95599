"""What parts are made of: boards (sheet goods and foam) and bar sections."""

from __future__ import annotations

from dataclasses import dataclass

from fitout.model.edging import EdgingSpec


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A sheet material at its actual (measured or catalogue) thickness.

    Bending values are None where no source gives them: checks that need them then report
    `unchecked`. `length` of the sheet runs along the face grain. `edging` is what goes on the
    edges of the parts it is used for, None where they stay bare.
    """

    key: str
    nominal: float
    thickness: float
    thickness_tolerance: float
    density_kg_m3: float
    length: float
    width: float
    grain: bool = True
    kind: str = "plywood"
    e_along_mpa: float | None = None
    e_across_mpa: float | None = None
    shear_mpa: float | None = None
    strength_along_mpa: float | None = None
    strength_across_mpa: float | None = None
    price: float | None = None
    source: str = ""
    edging: EdgingSpec | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A bar or tube section sold by length; `wall` is None for a solid bar."""

    key: str
    width: float
    height: float
    wall: float | None
    density_kg_m3: float
    stock_length: float
    yield_mpa: float | None = None
    e_mpa: float | None = None
    price: float | None = None
    source: str = ""

    @property
    def area(self) -> float:
        """Cross-section of the metal in mm², corners taken square."""
        full = self.width * self.height
        if self.wall is None:
            return full
        return full - (self.width - 2.0 * self.wall) * (self.height - 2.0 * self.wall)
