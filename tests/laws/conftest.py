"""What several laws measure with the CAD kernel."""

from collections.abc import Callable

import pytest

from underbag.export.kernel import Solid


@pytest.fixture(scope="session")
def fused() -> Callable[[list[Solid]], Solid]:
    """Give the union of bodies, as the kernel makes it."""

    def fuse_all(bodies: list[Solid]) -> Solid:
        from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
        from OCP.TopTools import TopTools_ListOfShape

        arguments, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
        arguments.Append(bodies[0])
        for body in bodies[1:]:
            tools.Append(body)
        fuse = BRepAlgoAPI_Fuse()
        fuse.SetArguments(arguments)
        fuse.SetTools(tools)
        fuse.Build()
        assert fuse.IsDone()
        return fuse.Shape()

    return fuse_all
