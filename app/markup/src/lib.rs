//! `markup!`: the notation of Leptos' `view!`, compiled to data instead of types.
//!
//! `view!` gives every element a type of its own, made of its attributes and children, and everything
//! that builds, changes and removes it is compiled anew. `markup!` writes calls to one builder (`Tag`
//! in the app), so that a screen is mostly a list of names and texts. Components are handed to `view!`.

use proc_macro2::{Span, TokenStream};
use quote::{quote, quote_spanned};
use rstml::node::{KeyedAttribute, Node, NodeAttribute, NodeElement, NodeName};
use rstml::{Parser, ParserConfig};
use syn::spanned::Spanned;
use syn::{Expr, ExprLit, Ident, Lit, Stmt};

/// Elements made in the name space of SVG.
const SVG: [&str; 5] = ["svg", "g", "path", "circle", "text"];
/// Elements that have no children and no closing tag.
const VOID: [&str; 4] = ["img", "input", "br", "hr"];

/// Views as in Leptos' `view!`, always an `AnyView`. See the crate's documentation.
///
/// Understood: elements, components, texts, `{expressions}`; attributes with a literal, a value or a
/// closure (which is followed); `on:event=`, `class:name=` (a condition), `prop:name=` and `node_ref=`.
#[proc_macro]
pub fn markup(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let parser = Parser::new(ParserConfig::new().always_self_closed_elements(VOID.into_iter().collect()));
    let out = match parser.parse_simple(TokenStream::from(input)) {
        Ok(nodes) => several(&nodes),
        Err(error) => Err(error),
    };
    out.unwrap_or_else(|error| error.to_compile_error()).into()
}

/// One node is a view; several are a list of views.
fn several(nodes: &[Node]) -> syn::Result<TokenStream> {
    match nodes {
        [only] => {
            let view = node(only)?;
            Ok(quote!(crate::markup::any(#view)))
        }
        _ => {
            let views = nodes.iter().map(node).collect::<syn::Result<Vec<_>>>()?;
            Ok(quote!(crate::markup::any(::std::vec![#(crate::markup::any(#views)),*])))
        }
    }
}

fn node(node: &Node) -> syn::Result<TokenStream> {
    match node {
        Node::Element(e) if is_component(e.name()) && e.children.is_empty() => {
            Ok(quote!(::leptos::prelude::view! { #e }))
        }
        Node::Element(e) if is_component(e.name()) => {
            Err(syn::Error::new(e.name().span(), "give a component its children as a property"))
        }
        Node::Element(e) => element(e),
        Node::Text(text) => {
            let text = &text.value;
            Ok(quote!(#text))
        }
        Node::Block(block) => {
            let block = block
                .try_block()
                .ok_or_else(|| syn::Error::new(block.span(), "an expression was expected"))?;
            Ok(match block.stmts.as_slice() {
                [Stmt::Expr(Expr::Closure(followed), None)] => quote!(crate::markup::live(#followed)),
                [Stmt::Expr(value, None)] => quote!(#value),
                _ => quote!(#block),
            })
        }
        other => Err(syn::Error::new(other.span(), "markup! does not know this")),
    }
}

/// As in Leptos: a component's name has a capital letter or a path.
fn is_component(name: &NodeName) -> bool {
    matches!(name, NodeName::Path(path) if path.path.segments.len() > 1)
        || name.to_string().starts_with(|c: char| c.is_ascii_uppercase())
}

fn element(e: &NodeElement<rstml::Infallible>) -> syn::Result<TokenStream> {
    let name = e.name().to_string();
    let span = e.name().span();
    // Name and all attributes that never change are one text: `button|type|button|class|chip`.
    let mut fixed = name.clone();
    let mut calls = TokenStream::new();
    for attribute in e.attributes() {
        let NodeAttribute::Attribute(attribute) = attribute else {
            return Err(syn::Error::new(attribute.span(), "an attribute needs a name"));
        };
        match fixed_value(attribute)? {
            Some(value) => {
                for part in [attribute.key.to_string(), value] {
                    fixed.push('|');
                    fixed.push_str(&part);
                }
            }
            None => calls.extend(attribute_call(attribute)?),
        }
    }
    let mut built = if SVG.contains(&name.as_str()) {
        quote_spanned!(span=> crate::markup::Tag::svg(#fixed) #calls)
    } else {
        quote_spanned!(span=> crate::markup::Tag::html(#fixed) #calls)
    };
    for child in &e.children {
        let view = node(child)?;
        built = quote!(#built.child(#view));
    }
    Ok(built)
}

/// The text of an attribute that never changes.
fn fixed_value(attribute: &KeyedAttribute) -> syn::Result<Option<String>> {
    let text = match attribute.value() {
        None => String::new(),
        Some(Expr::Lit(ExprLit { lit: Lit::Str(text), .. })) => text.value(),
        Some(_) => return Ok(None),
    };
    if text.contains('|') {
        return Err(syn::Error::new(attribute.span(), "markup! parts texts by |"));
    }
    Ok(Some(text))
}

fn attribute_call(attribute: &KeyedAttribute) -> syn::Result<TokenStream> {
    let key = attribute.key.to_string();
    let span = attribute.key.span();
    let Some(value) = attribute.value() else { return Ok(TokenStream::new()) };
    Ok(match key.split_once(':') {
        Some(("on", event)) => {
            let event = Ident::new(event, Span::call_site());
            quote_spanned!(span=> .on(::leptos::ev::#event, #value))
        }
        Some(("class", class)) => quote_spanned!(span=> .class(#class, #value)),
        Some(("prop", property)) => quote_spanned!(span=> .property(#property, #value)),
        Some(_) => return Err(syn::Error::new(span, "markup! knows on:, class: and prop:")),
        None if key == "node_ref" => quote_spanned!(span=> .reference(#value)),
        None => quote_spanned!(span=> .attribute(#key, #value)),
    })
}
