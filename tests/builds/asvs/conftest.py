"""The same small workshop that the matrix of roles walks over."""

from tests.builds.access.conftest import walker, world

__all__ = ["walker", "world"]
