"""Many conductors at once: they keep apart, tee at a common terminal, cross where they must."""

from app.drawing.routing import RouteEnd, crossing, legs
from app.drawing.routing_together import Kept, Wanted, crossings_of, routed_together

DOWN, UP = (0, 1), (0, -1)


def wanted(start, finish, sort="positive"):
    return Wanted(RouteEnd(start, DOWN), RouteEnd(finish, UP), sort)


def gaps(paths):
    """The distances between level legs of different paths that run beside one another."""
    listed = [(item, leg) for item, path in paths.items() for leg in legs(path)
              if leg[0][1] == leg[1][1]]
    for a, one in listed:
        for b, two in listed:
            apart = abs(one[0][1] - two[0][1])
            beside = (min(max(one[0][0], one[1][0]), max(two[0][0], two[1][0]))
                      - max(min(one[0][0], one[1][0]), min(two[0][0], two[1][0])))
            if a < b and beside > 0:
                yield apart


def test_parallel_runs_keep_five_millimetres_apart_and_do_not_cross():
    # Each goes from a port on the left to one as far to the right, one beside the other.
    paths = routed_together(
        {f"W{i}": wanted((i * 10.0, 0.0), (100.0 + i * 10.0, 60.0)) for i in range(4)}, [], {})
    assert min(gaps(paths)) >= 5
    assert sum(crossings_of(item, paths) for item in paths) == 0


def test_a_kept_path_stays_and_is_given_room():
    kept = Kept(((0.0, 30.0), (120.0, 30.0)), "negative")
    paths = routed_together({"W1": wanted((10.0, 0.0), (100.0, 60.0))}, [], {"N1": kept})
    assert set(paths) == {"W1"}
    assert min(gaps({**paths, "N1": kept.path})) >= 5


def test_conductors_of_one_terminal_leave_as_one_line_and_tee():
    post = RouteEnd((0.0, 0.0), UP)
    paths = routed_together(
        {f"W{i}": Wanted(post, RouteEnd((x, 20.0), UP), "positive")
         for i, x in enumerate((30.0, 50.0, -30.0))}, [], {})
    levels = {leg[0][1] for path in paths.values() for leg in legs(path) if leg[0][1] == leg[1][1]}
    assert len(levels) == 1


def test_plus_and_minus_of_one_terminal_do_not_lie_on_one_another_for_long():
    start, finish = RouteEnd((0.0, 0.0), DOWN), RouteEnd((40.0, 60.0), UP)
    paths = routed_together({"W1": Wanted(start, finish, "positive"),
                             "N1": Wanted(start, finish, "negative")}, [], {})
    assert paths["W1"] != paths["N1"]


def test_an_upright_run_that_is_wanted_is_taken():
    run = ((70.0, 20.0), (70.0, 40.0))
    paths = routed_together(
        {"W1": Wanted(RouteEnd((0.0, 0.0), DOWN), RouteEnd((0.0, 60.0), UP), "", (run,))},
        [], {}, rounds=0)
    assert any(leg[0][0] == leg[1][0] == 70.0 for leg in legs(paths["W1"]))


def test_a_run_that_only_costs_is_given_up_for_the_straight_way():
    run = ((70.0, 20.0), (70.0, 40.0))
    paths = routed_together(
        {"W1": Wanted(RouteEnd((0.0, 0.0), DOWN), RouteEnd((0.0, 60.0), UP), "", (run,)),
         "W2": wanted((20.0, 0.0), (90.0, 60.0))}, [], {})
    assert paths["W1"] == ((0.0, 0.0), (0.0, 60.0))


def test_crossings_are_counted_where_legs_cross_inside_both():
    paths = {"W1": ((0.0, 5.0), (20.0, 5.0)), "W2": ((10.0, 0.0), (10.0, 20.0)),
             "W3": ((20.0, 0.0), (20.0, 20.0))}
    assert [crossings_of(item, paths) for item in paths] == [1, 1, 0]
    assert crossing(*(legs(paths[item])[0] for item in ("W1", "W2"))) == (10, 5)
