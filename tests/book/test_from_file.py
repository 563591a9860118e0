"""What a book file finds around it."""

from dielines.book.from_file import page_kinds
from dielines.language.library import built_in_library, library_beside


def test_every_template_that_is_a_page_is_known_as_one_with_its_parameters():
    library = built_in_library()
    pages = [template for template in library.templates() if template.kind == "page"]
    assert len(pages) > 15
    assert page_kinds(library) == {
        page.name: [parameter.name for parameter in page.parameters] for page in pages
    }


def test_a_page_of_ones_own_beside_the_book_is_known_and_what_is_no_page_is_not(tmp_path):
    page = (
        'template = "window-leaf"\nkind = "page"\nunits = "mm"\n[parts.page]\nbound = "leaf left"\n'
    )
    size = 'columns = ["100 / 3"]\nrows = ["107 : leaf"]\n'
    (tmp_path / "window-leaf.toml").write_text(page + size)
    insert = page.replace("window-leaf", "card").replace('"page"', '"insert"')
    (tmp_path / "card.toml").write_text(insert.replace('bound = "leaf left"\n', "") + size)
    kinds = page_kinds(library_beside(tmp_path))
    assert kinds["window-leaf"] == []
    assert "card" not in kinds
