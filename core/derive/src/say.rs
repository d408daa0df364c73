//! `say!`: as `format!`, in the reader's language.

use proc_macro2::{Span, TokenStream};
use quote::quote;
use syn::parse::{Parse, ParseStream};
use syn::{Expr, Ident, LitStr, Token};

/// The English text, and what stands in its gaps by their names or by their order.
struct Text {
    english: LitStr,
    given: Vec<(Option<Ident>, Expr)>,
}

impl Parse for Text {
    fn parse(input: ParseStream) -> syn::Result<Self> {
        let english = input.parse()?;
        let mut given = Vec::new();
        while !input.is_empty() {
            input.parse::<Token![,]>()?;
            if input.is_empty() {
                break;
            }
            let named = input.peek(Ident) && input.peek2(Token![=]) && !input.peek2(Token![==]);
            let name = if named {
                let name = input.parse()?;
                input.parse::<Token![=]>()?;
                Some(name)
            } else {
                None
            };
            given.push((name, input.parse()?));
        }
        Ok(Self { english, given })
    }
}

/// A gap: its name, nothing where it has none, and how what stands in it is written.
struct Gap {
    name: String,
    how: String,
}

fn gaps(text: &LitStr) -> syn::Result<Vec<Gap>> {
    let value = text.value();
    let mut rest = value.as_str();
    let mut gaps = Vec::new();
    while let Some(at) = rest.find(['{', '}']) {
        let gap = rest.split_at(at).1;
        if let Some(after) = gap.strip_prefix("{{").or_else(|| gap.strip_prefix("}}")) {
            rest = after;
            continue;
        }
        let inside = gap.strip_prefix('{').and_then(|gap| gap.split_once('}'));
        let (inside, after) = inside.ok_or_else(|| syn::Error::new(text.span(), "a gap has no end"))?;
        rest = after;
        let (name, how) = inside.split_once(':').unwrap_or((inside, ""));
        if name.parse::<usize>().is_ok() {
            return Err(syn::Error::new(text.span(), "a gap has a name or none, not a number"));
        }
        gaps.push(Gap { name: name.to_owned(), how: how.to_owned() });
    }
    Ok(gaps)
}

pub fn say(input: TokenStream) -> syn::Result<TokenStream> {
    let text: Text = syn::parse2(input)?;
    let english = &text.english;
    let mut unnamed = text.given.iter().filter(|(name, _)| name.is_none());
    let mut seen: Vec<String> = Vec::new();
    let mut values = Vec::new();
    for gap in gaps(english)? {
        if !gap.name.is_empty() && seen.contains(&gap.name) {
            continue;
        }
        let value = if gap.name.is_empty() {
            let (_, value) = unnamed
                .next()
                .ok_or_else(|| syn::Error::new(english.span(), "nothing is given for a gap"))?;
            quote!(#value)
        } else {
            let named =
                |(name, _): &&(Option<Ident>, Expr)| name.as_ref().is_some_and(|name| *name == gap.name);
            match text.given.iter().find(named) {
                Some((_, value)) => quote!(#value),
                None => {
                    let name = Ident::new(&gap.name, english.span());
                    quote!(#name)
                }
            }
        };
        values.push(filled(&value, &gap, english.span()));
        seen.push(gap.name);
    }
    if unnamed.next().is_some() {
        return Err(syn::Error::new(english.span(), "more is given than there are gaps"));
    }
    Ok(quote!(::swingtie_core::language::said(#english, &[#(#values),*])))
}

fn filled(value: &TokenStream, gap: &Gap, span: Span) -> TokenStream {
    if !gap.how.is_empty() {
        let written = LitStr::new(&format!("{{:{}}}", gap.how), span);
        return quote!(&::swingtie_core::language::number(::std::format!(#written, #value)));
    }
    if let Ok(Expr::MethodCall(call)) = syn::parse2::<Expr>(value.clone())
        && ["label", "of"].contains(&call.method.to_string().as_str())
    {
        // What somebody called a point is never one of the program's own words.
        return quote!(&::swingtie_core::language::Written(#value));
    }
    quote!(&(#value))
}
