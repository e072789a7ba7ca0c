import itertools

from hypothesis import given
from hypothesis import strategies as st

from app.drawing.routing import RouteEnd, crossing, legs, route, with_ends_moved

BAR = (-5.0, -1.1, 65.0, 1.1)
BLOCK = (0.0, 10.0, 20.0, 30.0)
ON_GRID = st.integers(-20, 20).map(lambda n: n * 2.5)


def enters(path, body):
    return any(
        max(a[0], b[0]) > body[0] and min(a[0], b[0]) < body[2]
        and max(a[1], b[1]) > body[1] and min(a[1], b[1]) < body[3]
        for a, b in legs(path)
    )


def test_a_route_between_two_ports_in_line_is_straight():
    path = route(RouteEnd((0, 0), (0, 1)), RouteEnd((0, 40), (0, -1)))
    assert path == ((0, 0), (0, 40))


def test_a_route_from_a_stud_goes_round_a_body_in_its_way():
    path = route(RouteEnd((10, 0)), RouteEnd((10, 50), (0, -1)), [BAR, BLOCK])
    assert (path[0], path[-1]) == ((10, 0), (10, 50))
    assert not enters(path, BLOCK)


def test_a_route_leaves_a_bar_at_its_stud_and_does_not_run_along_it():
    path = route(RouteEnd((10, 0)), RouteEnd((40, 30), (0, -1)), [BAR])
    assert path[1][0] == 10


def test_a_route_leaves_and_enters_a_body_from_outside():
    body = (-5.0, -5.0, 5.0, 5.0)
    path = route(RouteEnd((0, -5), (0, -1)), RouteEnd((0, 40), (0, -1)), [body])
    assert path[1][1] < -5 and not enters(path, body)


@given(x=ON_GRID, y=ON_GRID, direction=st.sampled_from(((1, 0), (-1, 0), (0, 1), (0, -1))))
def test_every_route_is_orthogonal_and_joins_its_ends(x, y, direction):
    path = route(RouteEnd((0, 0), (0, 1)), RouteEnd((x, y + 0.0), direction), [BLOCK])
    assert path[0] == (0, 0) and path[-1] == (x, y)
    assert all(a[0] == b[0] or a[1] == b[1] for a, b in itertools.pairwise(path))


def test_where_two_legs_cross_is_found():
    level = ((0.0, 5.0), (20.0, 5.0))
    assert crossing(level, ((10.0, 0.0), (10.0, 20.0))) == (10, 5)
    assert crossing(level, ((20.0, 0.0), (20.0, 20.0))) is None


def test_bends_by_hand_stay_when_an_end_moves():
    path = ((0.0, 0.0), (0.0, 10.0), (30.0, 10.0), (30.0, 40.0))
    moved = with_ends_moved(path, RouteEnd((5, 0), (0, 1)), RouteEnd((30, 40), (0, -1)))
    assert moved == ((5, 0), (5, 10), (30, 10), (30, 40))


def test_terminals_that_lie_on_each_other_are_joined_by_a_line_of_two_points():
    for first, second in (((0, 0), (0, 0)), ((1, 0), (1, 0)), ((0, 1), (0, -1)), ((1, 0), (0, 1))):
        path = route(RouteEnd((50, 50), first), RouteEnd((50, 50), second))
        assert len(path) >= 2 and path[0] == path[-1] == (50, 50)
