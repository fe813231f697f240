bayleaf.words("we",{"wet":"3:o"});
