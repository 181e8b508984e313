"""The model in other programs' formats: ``write_model`` and the formats it knows."""

from massing.present.models.export import FORMATS, building, write_model

__all__ = ["FORMATS", "building", "write_model"]
