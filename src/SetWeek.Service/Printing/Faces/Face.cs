namespace SetWeek.Service.Printing.Faces;

/// <summary>The typefaces of sheets and charts on paper: Archivo (condensed) for text, Literata for headings.</summary>
public enum Face { Text, TextBold, Heading, HeadingRegular }
