"""How long a load lies on a board, and what that costs: strength by k_mod, stiffness by k_def.

The method of EN 1995-1-1 (with EN 1990 for the loads), used as a method: it is made for
buildings, and following it is no approval of anything in a vehicle.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

Duration = Literal["permanent", "long", "medium", "short", "instant"]

METHOD = "EN 1995-1-1 as a method, not as an approval"

SERVICE_CLASS: Mapping[str, int] = MappingProxyType({"plywood": 2, "mdf": 1, "metal": 1})
"""The climate a board is reckoned in: 2 is sheltered but unheated, as a parked vehicle is. MDF has
values for 1, dry inside, only: it must be kept dry (common practice)."""

K_MOD: Mapping[str, Mapping[Duration, float]] = MappingProxyType(
    {
        "plywood": MappingProxyType(
            {"permanent": 0.60, "long": 0.70, "medium": 0.80, "short": 0.90, "instant": 1.10}
        ),
        "mdf": MappingProxyType(
            {"permanent": 0.20, "long": 0.40, "medium": 0.60, "short": 0.80, "instant": 1.10}
        ),
        "metal": MappingProxyType(
            {"permanent": 1.0, "long": 1.0, "medium": 1.0, "short": 1.0, "instant": 1.0}
        ),
    }
)
"""Strength under a load that lies so long, over that in a short test: EN 1995-1-1 Table 3.1 for
plywood (class 2 as class 1, from memory) and MDF; metal does not tire of lying loads."""

K_DEF: Mapping[tuple[str, int], float] = MappingProxyType(
    {
        ("plywood", 1): 0.80,
        ("plywood", 2): 1.00,
        ("plywood", 3): 2.50,
        ("mdf", 1): 2.25,
        ("mdf", 2): 3.00,
        ("metal", 1): 0.0,
    }
)
"""Creep under a lasting load over the sag at once, by kind of board and service class:
EN 1995-1-1 Table 3.2, from memory; metal does not creep."""

GAMMA_M: Mapping[str, float] = MappingProxyType({"plywood": 1.2, "mdf": 1.3, "metal": 1.1})
"""Partial factor of the material: EN 1995-1-1 Table 2.3 (MDF from memory), EN 1999-1-1 (from
memory)."""

GAMMA_JOINT = 1.3
"""Partial factor of joints in wood: EN 1995-1-1 Table 2.3, from memory."""

GAMMA_LOAD = 1.5
"""Partial factor of loads: EN 1990 for what varies, from memory; here for own weight too."""


def strength_share(kind: str, duration: Duration) -> float:
    """The share of a characteristic strength that a load may use: k_mod / (γ_M γ_F).

    Raises:
        KeyError: on a kind of board without values.

    Source: EN 1995-1-1 2.4.1 (2.14), EN 1990.
    """
    return K_MOD[kind][duration] / (GAMMA_M[kind] * GAMMA_LOAD)


def joint_share(duration: Duration) -> float:
    """The same share for the characteristic load of a joint in plywood: k_mod / (1.3 γ_F).

    Source: EN 1995-1-1 2.4.3 (2.17), EN 1990.
    """
    return K_MOD["plywood"][duration] / (GAMMA_JOINT * GAMMA_LOAD)


def final_factor(kind: str, lasting: float = 1.0, service_class: int | None = None) -> float:
    """The final sag over the sag at once: 1 + ψ₂ k_def.

    `lasting` is ψ₂, the share of the load that lies there for good: 1 for goods that stay
    packed. The service class is that of `SERVICE_CLASS` unless given.

    Raises:
        KeyError: on a kind of board, or a service class, without values.
        ValueError: unless `lasting` is from 0 to 1.

    Source: EN 1995-1-1 2.2.3 and 2.3.2.2, E_fin = E_mean / (1 + ψ₂ k_def).
    """
    if not 0.0 <= lasting <= 1.0:
        raise ValueError(f"lasting: {lasting:g}; must be from 0 to 1")
    return 1.0 + lasting * K_DEF[kind, service_class or SERVICE_CLASS[kind]]
