"""Files that cannot be read as a document: told with a code, and never read without end."""

import os

import pytest

from dielines.documents import MAX_BYTES, read_book_document, read_template_document
from dielines.errors import BookError, TemplateError


def codes(path, read=read_book_document, error=BookError):
    with pytest.raises(error) as caught:
        read(path)
    return [fault.code for fault in caught.value.faults]


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="no file without end here")
def test_a_file_without_end_is_too_large(tmp_path):
    (tmp_path / "endless.toml").symlink_to("/dev/zero")
    assert codes(tmp_path / "endless.toml") == ["too-large"]
    assert codes(tmp_path / "endless.toml", read_template_document, TemplateError) == ["too-large"]


def test_a_file_of_one_byte_too_many_is_too_large_and_one_of_as_many_is_not(tmp_path):
    path = tmp_path / "long.toml"
    path.write_bytes(b"#" * MAX_BYTES)
    assert read_book_document(path).data == {}
    path.write_bytes(b"#" * (MAX_BYTES + 1))
    assert codes(path) == ["too-large"]


def test_what_is_no_file_cannot_be_read(tmp_path):
    assert codes(tmp_path) == ["unreadable"]
    assert codes(tmp_path / "none.toml") == ["unreadable"]


@pytest.mark.parametrize(("header", "told"), [("usual", "usual"), ('every."flap"', "every.flap")])
def test_a_header_that_stands_twice_is_told_as_it_is_written(tmp_path, header, told):
    path = tmp_path / "twice.toml"
    path.write_text(f"[{header}]\n[{header}]\n")
    with pytest.raises(BookError) as caught:
        read_book_document(path)
    (fault,) = caught.value.faults
    assert fault.code == "not-toml"
    assert f" {told} " in fault.message
    assert "(" not in fault.message
