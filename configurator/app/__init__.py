"""The screens; the only room that knows Streamlit."""
