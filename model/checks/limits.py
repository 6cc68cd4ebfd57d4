"""The limits that rules compare with; values that need one read it from ``model/data`` as well."""

from ..data.limits import Limit, limit, limits

__all__ = ["Limit", "limit", "limits"]
