from __future__ import annotations

from streamlit.testing.v1 import AppTest


def test_a_click_counts_once_however_often_it_is_reported():
    def screen() -> None:
        import streamlit as st

        from configurator.app import session
        from configurator.app.view_models.acts import TileAct

        act = TileAct("pick", "roof", "canvas", 1, "one")
        other = TileAct("pick", "roof", "steel", 1, "two")
        st.text(str([session.counts_now(each) for each in (act, act, other)]))

    assert AppTest.from_function(screen).run().text[0].value == "[True, False, True]"


def test_own_changes_continue_a_revision_and_foreign_ones_break_the_chain():
    def screen() -> None:
        import streamlit as st

        from configurator.app import session

        session.note_saved("B-0001", 1, 2)
        session.note_saved("B-0001", 2, 3)
        session.note_saved("B-0001", 4, 5)
        seen = [session.continued("B-0001", revision) for revision in (1, 2, 3, 4)]
        st.text(str([*seen, session.continued("B-0002", 1)]))

    assert AppTest.from_function(screen).run().text[0].value == "[3, 3, 3, 5, 1]"


def test_notices_are_said_once():
    def screen() -> None:
        import streamlit as st

        from configurator.app import session

        session.say("said", ["Kept."])
        st.text(str([session.take_notices(), session.take_notices()]))

    assert AppTest.from_function(screen).run().text[0].value == "[[('said', ('Kept.',))], []]"


def test_a_wrong_reference_in_the_address_names_no_build():
    def screen() -> None:
        import streamlit as st

        from configurator.app import session

        st.text(str(session.build_reference()))

    for written in ("B-7", "../etc", "B-0007\n", "<b>B-0007</b>", ""):
        test = AppTest.from_function(screen)
        test.query_params["build"] = written
        assert test.run().text[0].value == "None", written


def test_a_change_by_other_hands_is_told_once_and_own_ones_are_not():
    def screen() -> None:
        import streamlit as st

        from configurator.app import session

        first = session.changed_elsewhere("B-0001", 1)
        session.note_saved("B-0001", 1, 2)
        own = session.changed_elsewhere("B-0001", 2)
        foreign = [session.changed_elsewhere("B-0001", 3) for _ in range(2)]
        st.text(str([first, own, *foreign]))

    assert AppTest.from_function(screen).run().text[0].value == "[False, False, True, False]"


def test_a_tick_box_follows_the_record_and_keeps_a_fresh_click():
    def screen() -> None:
        import streamlit as st

        from configurator.app import session

        stored = st.text_input("stored") == "yes"
        session.show_stored("tick", stored)
        st.text(str(st.checkbox("tick", key="tick")))

    shown = AppTest.from_function(screen).run()
    assert shown.text[0].value == "False"
    assert shown.checkbox[0].check().run().text[0].value == "True"
    assert shown.text_input[0].input("yes").run().text[0].value == "True"
    assert shown.text_input[0].input("no").run().text[0].value == "False"


def test_a_form_is_empty_again_when_its_number_changes():
    def screen() -> None:
        import streamlit as st

        from configurator.app import session

        before = session.form_number("wish")
        session.empty_form("wish")
        st.text(str([before, session.form_number("wish"), session.form_number("other")]))

    assert AppTest.from_function(screen).run().text[0].value == "[0, 1, 0]"
